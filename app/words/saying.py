"""Key and values to a sentence: volts, days, lists and the trade's words are put into form here and nowhere else.

In a message {x:volts} is volts with thousands marks, {x:day} a day as the catalogue writes days, {x:kind} the trade's
word for a key, {x:kinds} a list of such words, {x} of several values all of them in a row. Plurals, lists and numbers
are those of the catalogue's locale.
"""

from __future__ import annotations

import string
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import TYPE_CHECKING, Literal, cast

from app.decision.domain.errors import CuffdateError, ProgramFault
from app.words.catalogue import CATALOGUE, Message
from app.words.vocabulary import EVERYTHING

# A window that starts says no finding, and does without the library its values are made of.
if TYPE_CHECKING:
    from app.decision.domain.finding import Finding


def sentences() -> Mapping[str, str]:
    """Every message as one text by key."""
    return CATALOGUE.texts()


def number(value: float, decimals: int = 2) -> str:
    """A number as people read it: thousands marks, no needless zeros.

    >>> number(1541.76), number(1500.0), number(0.0)
    ('1,541.76', '1,500', '0')
    """
    # Needed with the first number only, and a start that says none does without its 12 ms.
    from babel.numbers import format_decimal  # noqa: PLC0415

    return str(format_decimal(value, f"#,##0.{'#' * decimals}", locale=CATALOGUE.locale))


def day(value: object) -> str:
    """A day as the catalogue writes days; of a vague one its first and last, and of none that it is not known."""
    if not isinstance(value, date):
        first, _, last = str(value).partition(" to ")
        if last:
            return say("day.between", {"first": first, "last": last})
        try:
            value = date.fromisoformat(first)
        except ValueError:
            return first or say("day.unknown", {})
    if CATALOGUE["form/day"] == "yyyy-MM-dd":
        return value.isoformat()
    return _date(value, str(CATALOGUE["form/day"]))


def month_words(year: int, month: int) -> str:
    """A month as the catalogue writes months.

    >>> month_words(2026, 3)
    '2026-03'
    """
    form = str(CATALOGUE["form/month"])
    return f"{year}-{month:02d}" if form == "yyyy-MM" else _date(date(year, month, 1), form)


def _date(value: date, form: str) -> str:
    # Needed with the first day that is not written as figures only.
    from babel.dates import format_date  # noqa: PLC0415

    return str(format_date(value, form, locale=CATALOGUE.locale))


def limit_said(decides: str) -> str:
    """What decides a due day, in words; "" where nothing does.

    >>> limit_said("from-test/9"), limit_said("calibration/1")
    ('9 months from the last test', '1 month from the last calibration')
    """
    key, _, months = decides.partition("/")
    return say(f"limit/{key}", {"count": int(months or 0), "months": months}) if key else ""


def _due_of(decides: str, table: str = "due-of") -> str:
    """What is due by the limit that decides, or was: a calibration, an inspection, else a retest."""
    words = EVERYTHING[table]
    return words.get(decides.partition("/")[0], words["test"])


_FORMS: dict[str, Callable[[object], str]] = {
    "volts": lambda value: f"{number(_float(value), 4)} V",
    "number": lambda value: number(_float(value), 3),
    "milliamps": lambda value: f"{number(_float(value) / 1000)} mA",
    "hint": lambda value: say("hint.nearest", {"nearest": value}) + " " if value else "",
    "day": day,
    "or": lambda value: listed((str(part) for part in _items(value)), "or"),
    "limit": lambda value: limit_said(str(value)),
    "due-of": lambda value: _due_of(str(value)),
    "was-due-of": lambda value: _due_of(str(value), "was-due-of"),
}


class _Form(string.Formatter):
    def format_field(self, value: object, format_spec: str) -> str:
        if format_spec in _FORMS:
            return _FORMS[format_spec](value)
        if format_spec.endswith("s") and format_spec[:-1] in EVERYTHING and not isinstance(value, str):
            words = EVERYTHING[format_spec[:-1]]
            return listed(words.get(str(part), str(part)) for part in _items(value))
        if format_spec in EVERYTHING:
            return EVERYTHING[format_spec].get(str(value), str(value))
        if isinstance(value, (tuple, list)):
            return listed(str(part) for part in value)
        return str(super().format_field(value, format_spec))


_FORM = _Form()


def _float(value: object) -> float:
    return float(value) if isinstance(value, (int, float)) else float("nan")


def _items(value: object) -> Iterable[object]:
    return value if isinstance(value, (tuple, list)) else (value,)


def listed(parts: Iterable[str], style: Literal["standard", "or"] = "standard") -> str:
    """Words in a row: "a", "a and b", "a, b and c"; or with an "or"."""
    words = list(parts)
    if len(words) < 2:
        return "".join(words)
    # Needed with the first list of several only.
    from babel.lists import format_list  # noqa: PLC0415

    return str(format_list(words, style, locale=CATALOGUE.locale))


def say(key: str, values: Mapping[str, object]) -> str:
    """The sentence of `key`. A missing sentence or value is a fault of ours and is never papered over."""
    message = CATALOGUE.get(key)
    if message is None:
        raise ProgramFault("words.no-sentence", thing=key)
    return _filled(text_of(message, key, values), key, values)


def text_of(message: Message, key: str, values: Mapping[str, object]) -> str:
    """The text of a message: of one with plurals that which `count` asks for in this language."""
    if isinstance(message, str):
        return message
    count = values.get("count")
    if not isinstance(count, int):
        raise ProgramFault("words.value-missing", thing=f"{key}: count")
    return message.get(CATALOGUE.locale.plural_form(count)) or message["other"]


def _filled(sentence: str, key: str, values: Mapping[str, object]) -> str:
    try:
        return _FORM.vformat(sentence, (), values)
    except KeyError as missing:
        raise ProgramFault("words.value-missing", thing=f"{key}: {missing}") from missing


def say_finding(finding: Finding) -> str:
    """A finding as a sentence: subject first, then the reason with its figures.

    A chain of one is its own weakest member, and says so only once.
    """
    values = {
        "subject": finding.subject, "measured": finding.measured, "required": finding.required,
        "unit": finding.unit or "", **finding.values,
    }  # fmt: skip
    alone = f"{finding.key}.alone"
    if finding.values.get("member") == finding.subject and alone in CATALOGUE:
        return say(alone, values)
    return say(finding.key, values)


def say_fault(fault: CuffdateError, *, in_window: bool = False) -> tuple[str, str]:
    """What is wrong, and the next step; in the window a step that is a command is said as what to press there."""
    values = {"file": fault.file, "place": fault.place, "thing": fault.thing, **fault.values}
    finding = values.pop("finding", None)
    if finding is not None:
        values["says"] = say_finding(cast("Finding", finding))
    if in_window and f"{fault.key}.window" in CATALOGUE:
        return say(fault.key, values), say(f"{fault.key}.window", values)
    return say_in_two(fault.key, values)


def say_here(fault: CuffdateError) -> str:
    """What is wrong and the next step, in one line for the window."""
    return " ".join(part for part in say_fault(fault, in_window=True) if part)


def say_in_two(key: str, values: Mapping[str, object]) -> tuple[str, str]:
    """An error's sentence and its next step, which stands under "<key>.next" or as the sentences after the first."""
    if f"{key}.next" in CATALOGUE:
        return say(key, values), say(f"{key}.next", values)
    # Parted before it is filled: a full stop in a value must not cut the sentence.
    first, _, rest = text_of(CATALOGUE.get(key, ""), key, values).partition(". ")
    if not rest:
        return say(key, values), ""
    return _filled(f"{first}.", key, values), _filled(rest, key, values)
