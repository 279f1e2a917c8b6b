"""What the bench shows, enables and says. No toolkit here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from app.decision.domain.declarations import Kind
from app.decision.domain.electrical_test import Note
from app.decision.domain.finding import Cause, Finding
from app.decision.judging.catalogues import catalogues
from app.decision.judging.status import Status, takes_calibration
from app.outputs.documents.due_list import why
from app.outputs.documents.saved import told
from app.outputs.pictures.scene import Role, ShapeKind
from app.usecases.foresee_entry import Foreseen
from app.usecases.look_at_kit import OnCounter
from app.usecases.what_holds import Held
from app.window.places.shelf.state import MARKS
from app.words.saying import listed, say, say_finding, say_here
from app.words.vocabulary import KINDS

# What can be entered -> its word, in the order of the choices.
CHOICES: dict[str, str] = {
    "test": "bench.choice.test", "air": "bench.choice.air", "look": "bench.choice.look",
    "self-test": "bench.choice.self-test", "calibration": "bench.choice.calibration", "event": "bench.choice.event",
    "hold": "bench.choice.hold", "release": "bench.choice.release", "repair": "bench.choice.repair",
}  # fmt: skip
_OF_THE_DAY = ("air", "self-test")
_HANDS: dict[str, tuple[str, ...]] = {"left": ("left",), "right": ("right",)}
_LOOKS = {Role.FIT: "fit", Role.SHORT: "stop"}


@dataclass(frozen=True)
class Line:
    """The piece in one line: `name` is code, kind and class, `until` "" where no date is known, `why` "" if ready."""

    mark: ShapeKind
    role: Role
    name: str
    word: str
    until: str
    why: str


@dataclass(frozen=True)
class Review:
    """What saving would do. `look`: fit, stop or wait."""

    look: str
    mark: ShapeKind
    role: Role
    title: str
    lines: tuple[str, ...] = ()

    @property
    def says(self) -> str:
        """All of it, for whoever does not see it."""
        return " ".join((self.title, *self.lines))


# The piece and what can be entered about it.


def kind_of(seen: OnCounter) -> Kind | None:
    """Its declaration; None for a kind this version does not judge."""
    return catalogues().kinds.get(seen.piece.kind)


def named(seen: OnCounter) -> str:
    """Code, kind and class."""
    words = KINDS[seen.piece.kind]
    if seen.piece.insulation_class is not None:
        words = say("bench.classed", {"kind": words, "class": seen.piece.insulation_class})
    return f"{seen.piece.code}  {words}"


def line_of(seen: OnCounter) -> Line:
    """How the piece stands now."""
    if seen.row is None:
        return Line(ShapeKind.QUESTION, Role.SHORT, named(seen), say("bench.not-judged", {}), "", "")
    status = seen.row.status
    mark, role = MARKS[status.state]
    reason_why = "" if status.state in ("ready", "due-soon") else why(status)
    return Line(mark, role, named(seen), say("bench.stands", {"state": status.state}), _until(status), reason_why)


def _until(status: Status) -> str:
    if status.due_on is None or status.use_until is None:
        return ""
    key = "bench.until-past" if status.is_past else "bench.until"
    return say(key, {"use_until": status.use_until, "due_on": status.due_on, "why": status.decides})


def why_not(seen: OnCounter | None, choice: str) -> str:
    """The key of the reason why this cannot be entered about the piece; "" where it can."""
    if choice == "look":
        return ""
    if seen is None:
        return "bench.not.piece"
    kind = kind_of(seen)
    if kind is None or seen.row is None:
        return "bench.not.not-judged"
    if seen.row.status.state == "withdrawn":
        return "bench.not.withdrawn"
    if choice == "release":
        return "" if seen.row.status.state == "on-hold" else "bench.not.held"
    asked = {
        "test": kind.is_classed, "air": kind.wants_air_test, "self-test": kind.has_self_test,
        "calibration": takes_calibration(catalogues().house, kind),
    }  # fmt: skip
    return "" if asked.get(choice, True) else "bench.not.kind"


def first_choice(seen: OnCounter | None) -> str:
    """The check of the day that is asked of its kind, "" where there is none: then somebody chooses."""
    return next((choice for choice in _OF_THE_DAY if not why_not(seen, choice)), "")


def reason(seen: OnCounter | None, choices: Iterable[str]) -> str:
    """Why these choices are not there, those of one reason together; "" where all are."""
    by_reason: dict[str, list[str]] = {}
    for choice in choices:
        if key := why_not(seen, choice):
            by_reason.setdefault(key, []).append(say(CHOICES[choice], {}))
    values: dict[str, object] = {} if seen is None else {"piece": seen.piece.code, "kind": seen.piece.kind}
    return " ".join(say(key, {**values, "choices": listed(words)}) for key, words in by_reason.items())


# Before it is saved.


def waiting(text: str) -> Review:
    """Not known yet, and why."""
    return Review("wait", ShapeKind.CLOCK, Role.QUIET, text)


def refused(text: str) -> Review:
    """It could not be entered, and why."""
    return Review("stop", ShapeKind.CROSS, Role.SHORT, say("bench.review.cannot", {}), (text,))


def review_of(code: str, foreseen: Foreseen) -> Review:
    """What an entry would do to the piece: the result of a test first, then how it stands after it."""
    status = foreseen.status
    after = say("bench.review.after", {"piece": code, "state": status.state})
    in_full = say("bench.review.after-line", {"piece": code, "state": status.state})
    if not foreseen.result:
        mark, role = MARKS[status.state]
        return Review(_LOOKS.get(role, "wait"), mark, role, after, (*_said(foreseen), *_after(foreseen)))
    if foreseen.result == "passed" and status.state in ("overdue", "not-tested"):
        # Good in itself, and old: the piece is not fit by it.
        old = (*_said(foreseen), in_full, *_after(foreseen))
        return Review("stop", ShapeKind.CLOCK, Role.SHORT, say("bench.review.passed-old", {"piece": code}), old)
    is_unseen = any(note.cause is Cause.NOT_IN_PRINT for note in foreseen.told)
    key, mark, role = _RESULTS["passed-not-yet" if is_unseen else foreseen.result]
    lines = list(_said(foreseen))
    if foreseen.result == "does-not-count":
        lines.append(say("bench.review.not-counted", {}))
    if not _is_said(foreseen):
        lines.append(in_full)
    return Review(_LOOKS[role], mark, role, say(key, {"piece": code}), (*lines, *_after(foreseen)))


_RESULTS: dict[str, tuple[str, ShapeKind, Role]] = {
    "passed": ("bench.review.passed", ShapeKind.TICK, Role.FIT),
    "passed-not-yet": ("bench.review.passed-not-yet", ShapeKind.QUESTION, Role.SHORT),
    "failed": ("bench.review.failed", ShapeKind.CROSS, Role.SHORT),
    "does-not-count": ("bench.review.does-not-count", ShapeKind.QUESTION, Role.SHORT),
}
_AT_ONCE = {
    "saved.held": "bench.review.held-at-once", "saved.retired": "bench.review.retired",
    "saved.test-waits": "limit-not-seen-in-print",
}  # fmt: skip
_DATED = ("ready", "due-soon", "inspect-today", "out")


def _said(foreseen: Foreseen) -> tuple[str, ...]:
    """What an act tells once it is done, as what will be."""
    return tuple(_as_to_come(note) for note in foreseen.told)


def _as_to_come(note: Note) -> str:
    if note.key in _AT_ONCE:
        return say(_AT_ONCE[note.key], {**note.values, "subject": note.values["piece"]})
    finding = note.values.get("finding")
    return say_finding(finding) if isinstance(finding, Finding) else told(note)


def _is_said(foreseen: Foreseen) -> bool:
    """Whether what is told says already that the piece is held or gone."""
    return any(note.cause in (Cause.ON_HOLD, Cause.WITHDRAWN) for note in foreseen.told)


def _after(foreseen: Foreseen) -> tuple[str, ...]:
    """The date first, where the piece may be used by it or a test would set it; then why it stands so."""
    status, lines = foreseen.status, []
    if status.state in _DATED or foreseen.result == "passed":
        if status.use_until is not None and status.due_on is not None:
            values = {"use_until": status.use_until, "due_on": status.due_on, "why": status.decides}
            lines.append(say("bench.review.date", values))
        elif status.is_dated:
            lines.append(say("bench.review.no-date", {}))
    if status.state not in ("ready", "due-soon") and not _is_said(foreseen):
        lines.append(why(status))
    return tuple(lines)


def review_of_release(held: Held, person: str) -> Review:
    """Whether what clears the piece has been entered."""
    if not held.open_now:
        return waiting(say("bench.release.free", {}))
    if held.missing:
        title = say("bench.release.not-ready", {"piece": held.code})
        return Review("stop", ShapeKind.CROSS, Role.SHORT, title, (say("bench.release.missing", {}),))
    if held.refused is not None:
        title = say("bench.release.not-by", {"piece": held.code, "person": person})
        return Review("stop", ShapeKind.CROSS, Role.SHORT, title, (say_here(held.refused),))
    who = person or say("bench.release.nobody", {})
    title = say("bench.release.ready", {"piece": held.code, "person": who})
    return Review("fit", ShapeKind.TICK, Role.FIT, title, (say("bench.release.there", {}),))


# Electrical test.

# Evidence -> which fields it needs, by name; the names are the keys of a worked case.
_FIGURES = ("kind_of_current", "test_v", "dwell_s", "frequency_hz", "left_ma", "right_ma")
_PAPER = ("laboratory", "certificate", "method", "certificate_names_piece")
FIELDS_OF: dict[str, tuple[str, ...]] = {
    "figures": ("occasion", *_FIGURES, "breakdown", "result", *_PAPER, "after"),
    "stated-pass": ("occasion", "breakdown", "result", *_PAPER, "after"),
    "sheet-only": ("result", "after"),
}


def fields_of_test(
    evidence: str, current: str, occasion: str, hand: str | None, kind: str = "rubber-gloves"
) -> tuple[str, ...]:
    """The fields shown besides day and evidence; a single glove has one hand, DC no frequency, a blanket no current."""
    hidden = (*_hidden(current, hand), *(() if has_current_limit(kind) else _OF_CURRENT))
    shown = [name for name in FIELDS_OF.get(evidence, ()) if name not in hidden]
    if evidence == "figures" and current == "ac" and occasion == "acceptance" and kind in _SOAKED:
        shown.append("soaked")
    return tuple(shown)


def has_current_limit(kind: str) -> bool:
    """Whether any set prints a limit for the current through such a piece."""
    tables = (rule_set.tables.get(kind) for rule_set in catalogues().rule_sets.values())
    return any(table is not None and table.current is not None for table in tables)


_OF_CURRENT = ("left_ma", "right_ma", "frequency_hz")
_SOAKED = ("rubber-gloves", "composite-gloves")


def _hidden(current: str, hand: str | None) -> tuple[str, ...]:
    other = {"left": "right_ma", "right": "left_ma"}.get(hand or "", "")
    return (other, "frequency_hz") if current == "dc" else (other,)


_YES_NO = ("breakdown", "soaked", "certificate_names_piece")


def table_of_test(values: Mapping[str, object]) -> dict[str, object]:
    """What is filled in as the keys of a worked case; a yes or no becomes one."""
    return {
        name: value == "yes" if name in _YES_NO else value for name, value in values.items() if value is not None
    }  # fmt: skip


# Air test.


@dataclass
class AirState:
    """Both hands, or the one a single glove has. `results`: passed, failed or left-out, by hand."""

    hands: tuple[str, ...] = ("left", "right")
    results: dict[str, str] = field(default_factory=dict)
    defects: dict[str, tuple[str, ...]] = field(default_factory=dict)

    @classmethod
    def of(cls, seen: OnCounter | None) -> AirState:
        """Nothing tested yet."""
        return cls(_HANDS.get((seen and seen.piece.hand) or "", ("left", "right")))

    @property
    def now(self) -> str:
        """The hand that is tested next, "" where none is left."""
        return next((hand for hand in self.hands if hand not in self.results), "")

    @property
    def has_failed(self) -> bool:
        """Whether one hand failed: the pair is held, whatever the other one does."""
        return "failed" in self.results.values()

    def says(self, hand: str) -> str:
        """How far this hand is."""
        result = self.results.get(hand)
        if result == "failed":
            return say("bench.air.is-failed", {"defects": self.defects[hand]})
        if result is not None:
            return say("bench.air.is-passed" if result == "passed" else "bench.air.is-out", {})
        return say("bench.air.now" if hand == self.now else "bench.air.wait", {})

    def table(self, inflation: Decimal | None) -> dict[str, object]:
        """The keys of a worked case; a hand that was left out is not said."""
        keys: dict[str, object] = {
            hand: result for hand, result in self.results.items() if result in ("passed", "failed")
        }
        defects = dict.fromkeys(defect for hand in self.hands for defect in self.defects.get(hand, ()))
        if defects:
            keys["defects"] = list(defects)
        if inflation is not None:
            keys["inflation"] = inflation
        return keys


def allowed_inflation(seen: OnCounter | None) -> str:
    """How far a glove of this type may be blown up, as house policy has it."""
    house = catalogues().house
    limits = {key: house.value(f"inflation/{key}") / 100 for key in ("I", "II")}
    of_type = None if seen is None else seen.piece.type
    if of_type in limits:
        return say("bench.air.allowed", {"most": limits[of_type], "type": of_type})
    return say("bench.air.allowed-unknown", {"least": min(limits.values()), "most": max(limits.values())})
