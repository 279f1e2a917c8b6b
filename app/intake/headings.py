"""Headings -> fields, guessed and shown: `how` says exact, likely or unknown.

A field is a key of a piece, declared with its headings, or one of the columns that become its records (`tested_on`, `calibrated_on`, ...). A
heading that is known and deliberately unused (a due date: it is computed; a maker's name) has field None and how
"exact"; one that is not understood has field None and how "unknown".
"""

from __future__ import annotations

import difflib
import re
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from app.decision.fields.field import Field
from app.decision.fields.pieces import FIELDS
from app.decision.fields.sorts import VOLTS
from app.decision.fields.word_tables import word_set, word_table
from app.intake.cells import text_of

if TYPE_CHECKING:
    from app.intake.table_file import Cell, Rows

How = Literal["exact", "likely", "unknown"]

# What a sheet has beside the fields of a piece: its records, what of it is where, columns that several kinds share.
_COLUMNS = """
code: code | id | kit id | kit no | kit number | kit code | asset | asset no | asset number | asset id | asset code
    | asset tag | tag | tag no | label | label no | ref | reference | ref no | no | number | item no | item number |
    item id | item code | equipment no | equipment id | equipment number | inventory no | inventory number | barcode
    | bar code | piece | piece code | our no | our number | stock no | tool no | tool id | glove no | glove number |
    register no | unique id | scan code | identification | identifier | identity
serial: serial | serial no | serial number | s n | sn | ser no | maker no | makers no | manufacturer serial
kind: what it is | kind | kind of kit | item type | kit type | equipment type | equipment | item | what | description | kit |
    piece type | category of kit | product | article | type of kit | type of equipment | type of item | equipment
    description | item description | tool type
type_or_kind: type
category: category | categories | cat | special properties | properties | suffix
mark: mark | marked | marked with | marking | printed mark
rating: rating | class or cat | class cat | cat class | class category | class rating | rated | rating class | class
    or category | rating or class
voltage_mark_ac: voltage ac | ac voltage | ac volts | max ac | max use ac | max use voltage ac | rated ac | marked
    ac | ac rating
voltage_mark_dc: voltage dc | dc voltage | dc volts | max dc | max use dc | max use voltage dc | rated dc | marked
    dc | dc rating
max_input: max input | maximum input | input limit | max input voltage | input max | maximum input voltage |
    terminal limit
fuse_v: fuse v | fuse volts | fuse voltage
fuse_ac_only: fuse ac only | ac only fuse | fuse for ac only
fuse_kind: fuse kind | fuse type | type of fuse | kind of fuse
threshold: threshold | own threshold | indicates from | indication threshold
output: output | output voltage | proving voltage | proving output
custody: custody | holder | held by | issued to | assigned to | with | user | owner | who has it | out to | person |
    keeper of piece | allocated to
status: status | state | condition | standing | availability | in service y n | current status
status_on: since | status date | status since | held since | date of status | quarantined on | withdrawn on | hold date |
    date held
tested_on: last test | last tested | electrical test | electrical test date | tested | tested on | test date | date
    tested | date of test | last test date | last electrical test | date of last test | last retest | retested |
    retest date | date of electrical test | last dielectric test | dielectric test | dielectric test date | proof
    test | proof test date | last proof test | lab test | lab test date | latest test | last test done | date last
    tested | electrically tested
result: result | test result | last result | last test result | pass fail | pass or fail | outcome | electrical test
    result | tested ok | passed
previous_on: previous test | previous test date | test before | prior test | previous electrical test | last but one
    test | old test | test before last | previous tested | earlier test | prior test date | date of previous test
previous_result: previous result | previous test result | prior result | earlier result
tested_or_calibrated_on: last test cal | test cal date | tested or calibrated | last test or calibration | test
    calibration date | last test calibration | test or cal | test or calibration | last test or cal | test cal |
    tested calibrated
test_v: test voltage | test volts | proof voltage | test kv | test v | applied voltage | proof volts | test voltage
    applied | voltage applied
kind_of_current: ac or dc | ac dc | kind of current | test current type | current type | ac dc test | test ac dc
frequency_hz: hz | test hz | frequency | test frequency | hertz
dwell_s: dwell | dwell time | test time | test duration | duration | hold time | time at voltage | minutes at
    voltage
left_ma: left | left hand | left current | left ma | ma left | leakage left | left leakage | left hand ma | current
    left | lh ma | l ma | left glove | lh
right_ma: right | right hand | right current | right ma | ma right | leakage right | right leakage | right hand ma |
    current right | rh ma | r ma | right glove | rh
occasion: new or retest | occasion | reason for test | test reason | why tested | test occasion
certificate: certificate | certificate no | certificate number | cert | cert no | cert number | report no | report
    number | lab certificate | test certificate | test cert | certificate ref
method: method | test method | tested to | test standard | tested according to | standard tested to
laboratory: lab | laboratory | test lab | test house | tested by | testing lab | test laboratory | lab name | tested at
calibrated_on: calibration | calibrated | calibration date | last calibration | cal date | last cal | calibrated on
    | date calibrated | last calibrated | date of calibration | date of last calibration
calibration_result: calibration result | cal result
inspected_on: looked over on | looked over | last look over date | look over | look over date | last look over | yearly look over | annual look over | inspection |
    inspected | last inspection | inspection date | last inspected | visual | visual check | last visual | visual
    inspection | inspected on | yearly inspection | annual inspection | annual check | yearly check | last visual
    inspection | date inspected | date of inspection
crib: crib | tool crib | store | stores | location | place | cupboard | where kept
quantity: quantity | qty | count | how many | pcs | pieces | number off | no off
"""
# Read by people, not by the program; a due day is computed from the tests and never taken over.
DUE = "due"
_UNUSED = """
reason: reason | hold reason | reason for hold | why held
due: due | due date | next test | next test due | next due | retest due | test due | next test date | next retest |
    expiry | expiry date | expires | valid until | use until | calibration due | cal due | next calibration | next
    inspection | inspection due | due on | next cal | due for test | retest by | date due | next electrical test |
    test expiry | calibration expiry | next test by | days left | days to go | overdue
about: maker | make | manufacturer | brand | model | model no | supplier | supplied by | notes | note | remarks |
    comment | comments | price | cost | colour | color | colour band | made | manufactured
    | date of manufacture | manufacture date | year of manufacture | made in | bin |
    shelf | site | depot | order no | purchase order | purchased | purchase date | bought | date
    bought | received | date received | photo | weight | department | vehicle | bay | line | row | colour code |
    part no | part number | drawer | locker
"""
_UNITS = {
    "mm": "mm",
    "cm": "cm",
    "in": "in",
    "inch": "in",
    "inches": "in",
    "kv": "kv",
    "v": "v",
    "volts": "v",
    "ma": "ma",
    "a": "a",
    "s": "s",
    "sec": "s",
    "seconds": "s",
    "min": "min",
    "mins": "min",
    "minutes": "min",
    "hz": "hz",
    "m": "m",
    "months": "months",
    "years": "years",
    "cal": "cal",
    "cal/cm2": "cal",
    "cal/cm\u00b2": "cal",
    "amps": "a",
    "\u00b5a": "\u00b5a",
    "ft": "ft",
    "metres": "m",
}
_NUMBER_WORDS = re.compile(r"\bnos\b|\bnr\b|\bn\u00b0|\bn\u00ba|#|\bnum\b")
_PUNCTUATION = re.compile(r"[^a-z0-9\u00b5\u00b2 ]+")
_BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
HEADING_ROWS_SEARCHED = 40
_CLEARLY = 5
_LIKELY_RATIO = 0.88
_HEADING_CHARACTERS = 80
_LEADING = frozenset(
    ("the", "date", "last", "our", "item", "kit", "ppe", "glove", "gloves", "meter", "tool", "current", "marked")
)


class Guess(Struct, frozen=True):
    """What a heading was taken for; `unit` and `current` ("ac", "dc", "acdc") as the heading gives them."""

    heading: str
    field: str | None
    how: How
    unit: str = ""
    current: str = ""
    is_due: bool = False


def column_of(field: Field) -> str:
    """The name a sheet's column of this field goes by: volts for AC and DC may stand in one cell, without the unit."""
    return field.key.removesuffix("_v") if field.sort is VOLTS else field.key


def known() -> dict[str, str]:
    """Heading -> field. Raises ValueError for a heading that stands twice."""
    columns: dict[str, str] = {}
    declared = {column_of(field): word_set(field.headings) for field in FIELDS.values() if field.is_offered}
    for field, names in (declared | word_table(_COLUMNS) | word_table(_UNUSED)).items():
        for name in names:
            if name in columns:
                raise ValueError(name)
            columns[name] = field
    return columns


# Words that say nothing of which column is meant, so that "Date of last dielectric test" is "last dielectric test".
_FILLERS = frozenset(
    ("the", "of", "for", "a", "an", "is", "was", "at", "in", "and", "our", "this", "date", "number", "no")
)


def _bag(text: str) -> tuple[str, ...]:
    """The words of a heading in any order, fillers left out."""
    return tuple(sorted(word for word in text.split() if word not in _FILLERS))


def _bags(known: dict[str, str]) -> dict[tuple[str, ...], str]:
    """Bag of words -> field, where all headings of that bag mean the same; a bag of one word tells too little."""
    found: dict[tuple[str, ...], set[str]] = {}
    for name, field in known.items():
        found.setdefault(_bag(name), set()).add(field)
    return {bag: next(iter(fields)) for bag, fields in found.items() if len(bag) > 1 and len(fields) == 1}


_KNOWN = known()
_BAGS = _bags(_KNOWN)
_NOT_USED = frozenset(word_table(_UNUSED))


def _plain(heading: str) -> str:
    text = _NUMBER_WORDS.sub(" no ", heading.lower())
    text = text.replace("'s", "s").replace("\u2019s", "s").replace("a.c.", "ac").replace("d.c.", "dc")
    return " ".join(_PUNCTUATION.sub(" ", text).split())


@lru_cache(maxsize=4096)
def guess(heading: str, *, by_spelling: bool = True) -> Guess:
    """The field a heading most likely means; `heading` as it stands in the sheet.

    `by_spelling` also tries names spelt much like it, which is slow and only for the heading row itself.
    """
    if not heading or len(heading) > _HEADING_CHARACTERS:
        return Guess(heading, None, "unknown")
    unit, plain = _unit(heading)
    words = plain.split()
    current = "".join(kind for kind in ("ac", "dc") if kind in words)
    field, how = _look_up(_plain(heading), plain, by_spelling=by_spelling)
    if field is None or field in _NOT_USED:
        return Guess(heading, None, "exact" if how == "exact" and field else "unknown", is_due=field == DUE)
    return Guess(heading, field, how, unit, current)


def _unit(heading: str) -> tuple[str, str]:
    """The unit in brackets or at the end, and the heading without it."""
    for inside in _BRACKETS.findall(heading):
        first = inside.strip().lower().split(" ")[0].rstrip(".")
        if first in _UNITS:
            return _UNITS[first], _plain(_BRACKETS.sub(" ", heading) + inside[len(first) + 1 :])
    words = _plain(heading).split()
    if len(words) > 1 and words[-1] in _UNITS and " ".join(words) not in _KNOWN:
        return _UNITS[words[-1]], " ".join(words[:-1])
    if len(words) > 1 and words[-1] in ("mm", "kv", "v", "ma", "hz", "cal"):
        return _UNITS[words[-1]], " ".join(words[:-1])
    if words and words[0] in ("minutes", "ma", "rh", "lh"):
        return {"minutes": "min", "ma": "ma"}.get(words[0], ""), " ".join(words)
    return "", _plain(_BRACKETS.sub(" ", heading)) or _plain(heading)


def _look_up(whole: str, bare: str, *, by_spelling: bool) -> tuple[str | None, How]:
    for text in (whole, bare):
        if text in _KNOWN:
            return _KNOWN[text], "exact"
    if (bag := _bag(bare)) in _BAGS:
        return _BAGS[bag], "likely"
    words = bare.split()
    while words and words[0] in _LEADING:
        words = words[1:]
        if " ".join(words) in _KNOWN:
            return _KNOWN[" ".join(words)], "likely"
    # A close spelling of a long name is a slip of the hand; of a short one it may be another word.
    if not by_spelling or len(bare) <= 4:
        return None, "unknown"
    alike = [name for name in _KNOWN if abs(len(name) - len(bare)) <= 3 and name[0] == bare[0]]
    close = difflib.get_close_matches(bare, alike, n=1, cutoff=_LIKELY_RATIO)
    return (_KNOWN[close[0]], "likely") if close else (None, "unknown")


def find_heading_row(rows: Rows) -> int | None:
    """Index of the heading row: the row near the top with most known headings, a code and two others among them.

    Title rows above it are passed over. None where there is no such row.
    """
    best, best_score = None, 0
    for index, row in enumerate(rows[:HEADING_ROWS_SEARCHED]):
        guesses = [guess(heading_text(cell), by_spelling=False) for cell in row if isinstance(cell, str)]
        fields = {g.field for g in guesses if g.field}
        known = sum(1 for g in guesses if g.how != "unknown")
        if fields & {"code", "serial"} and len(fields) > 1 and known > best_score:
            best, best_score = index, known
            if known >= _CLEARLY and known * 2 >= len(guesses):
                # Nothing below such a row is a better one, and rows of kit are many.
                break
    return best


def heading_text(cell: Cell) -> str:
    """The heading of a cell on one line."""
    return text_of(cell).strip()
