"""What the counter shows, enables and says: the job, the kit on it, the decision. No toolkit here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from app.decision.domain.register import System
from app.decision.judging.answers import KitAnswer, KitQuestion
from app.decision.judging.catalogues import catalogues
from app.decision.judging.defects import of_inspection
from app.outputs.documents.decision import said
from app.outputs.documents.due_list import why
from app.outputs.pictures.scene import Role, ShapeKind
from app.usecases.look_at_kit import OnCounter
from app.words.saying import listed, say, say_finding
from app.words.vocabulary import DEFECTS, KINDS

Mode = Literal["give", "take", "hand", "taken"]
MODES: tuple[Mode, ...] = ("give", "take", "hand", "taken")


@dataclass(frozen=True)
class Row:
    """One piece on the counter. `leads_to`: instruments to choose from where nobody can tell whose leads these are."""

    code: str
    name: str
    mark: ShapeKind
    role: Role
    word: str
    says: str
    leads_to: tuple[str, ...] = ()
    meter: str = ""


@dataclass(frozen=True)
class Decision:
    """The card of the decision: `look` is fit, stop or wait; `says` is heard by whoever does not see it."""

    look: str
    mark: ShapeKind
    role: Role
    title: str
    first: str
    question: str = ""
    others: tuple[str, ...] = ()
    open_issues: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    required: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    met: tuple[str, ...] = ()

    @property
    def says(self) -> str:
        """Title and first reason."""
        return say("counter.says", {"title": self.title, "first": self.first}) if self.first else self.title


@dataclass
class GiveState:
    """A kit to be given out. `circuits` None means all of the system; `until` None means today only."""

    people: Mapping[str, str] = field(default_factory=dict)
    systems: Mapping[str, System] = field(default_factory=dict)
    who: str = ""
    second: str = ""
    system: str = ""
    circuits: tuple[str, ...] | None = None
    task: str = ""
    until: date | None = None
    energy_mcal: int | None = None
    kit: list[str] = field(default_factory=list)
    meters: dict[str, str] = field(default_factory=dict)
    seen: Mapping[str, OnCounter] = field(default_factory=dict)
    answer: KitAnswer | None = None
    # Why nothing can be decided: a field that cannot be read, or what was asked cannot be answered.
    cannot: str = ""

    def add(self, codes: Iterable[str]) -> tuple[list[str], list[str]]:
        """Put pieces on the counter; answers which are new there and which lay there already."""
        new: list[str] = []
        there: list[str] = []
        for code in codes:
            (there if code in self.kit or code in new else new).append(code)
        self.kit += new
        return new, there

    def remove(self, code: str) -> None:
        """Take a piece off the counter."""
        self.kit = [piece for piece in self.kit if piece != code]
        self.meters = {leads: meter for leads, meter in self.meters.items() if code not in (leads, meter)}

    def has_room(self, code: str) -> bool:
        """Whether a badge can be taken: two people do a job at most."""
        return not self.second or code in (self.who, self.second)

    def take_person(self, code: str) -> str:
        """A badge: the first is who does the work, another one the second person; answers the key of what to say."""
        if not self.who:
            self.who = code
            return "counter.person-set"
        if code in (self.who, self.second):
            return "counter.person-there"
        if self.second:
            return "counter.persons-full"
        self.second = code
        return "counter.second-set"

    def missing(self) -> list[str]:
        """What has to be said before anything can be decided, in the order of the form."""
        asked = (("who", self.who), ("system", self.system), ("task", self.task))
        words = [say(f"counter.missing.{key}", {}) for key, value in asked if not value]
        if self.circuits is not None and not self.circuits:
            words.append(say("counter.missing.circuits", {}))
        return words if self.kit else [*words, say("counter.missing.kit", {})]

    def question(self, today: date) -> KitQuestion | None:
        """What is asked; None while something is missing."""
        if self.cannot or self.missing():
            return None
        return KitQuestion(
            system=self.system, circuits=self.circuits or (), task=self.task, person=self.who,
            second=self.second or None, kit=tuple(self.kit), on=today, until=self.until or today,
            with_leads=tuple((meter, leads) for leads, meter in self.meters.items()),
            incident_energy_mcal=self.energy_mcal,
        )  # fmt: skip

    def decision(self) -> Decision:
        """The card as it must be now: never an old decision for a new question."""
        missing = self.missing()
        if missing:
            return _waits(say("counter.not-decided", {}), say("counter.missing", {"what": listed(missing)}))
        if self.cannot:
            return Decision("wait", ShapeKind.QUESTION, Role.QUIET, say("counter.cannot-decide", {}), self.cannot)
        if self.answer is None:
            return _waits(say("counter.deciding", {}), "")
        answer = said(self.answer)
        fits = self.answer.verdict.may_be_issued
        first, *others = answer.stops or answer.validity
        return Decision(
            "fit" if fits else "stop", ShapeKind.TICK if fits else ShapeKind.CROSS, Role.FIT if fits else Role.SHORT,
            answer.title, first, answer.question, tuple(others), answer.open_issues, answer.changes,
            answer.required, answer.cautions, (*answer.met, *answer.sources),
        )  # fmt: skip

    @property
    def may_issue(self) -> bool:
        """Whether the key that issues may be pressed: only for the decision that is shown."""
        return self._is_decided and self.answer is not None and self.answer.verdict.may_be_issued

    @property
    def is_refused(self) -> bool:
        """Whether a refusal is shown."""
        return self._is_decided and self.answer is not None and not self.answer.verdict.may_be_issued

    @property
    def _is_decided(self) -> bool:
        return self.answer is not None and not self.cannot and not self.missing()

    def issue_words(self) -> str:
        """What the key says it will do."""
        if not self.kit or not self.who:
            return say("counter.issue-nothing", {})
        return say("counter.issue", {"count": len(self.kit), "person": self.who})

    def rows(self) -> list[Row]:
        """The kit in the order it was put down, each piece with what stops it, or how it stands."""
        meters = self._loose_meters()
        return [self._row(code, meters) for code in self.kit]

    def _loose_meters(self) -> tuple[str, ...]:
        """Instruments that take loose leads, where there are two or more to choose from."""
        kinds = catalogues().kinds
        meters = tuple(
            code
            for code in self.kit
            if (seen := self.seen.get(code)) is not None
            and seen.piece.kind in kinds
            and kinds[seen.piece.kind].is_instrument
            and seen.piece.fixed_leads is not True
        )
        return meters if len(meters) > 1 else ()

    def _row(self, code: str, meters: tuple[str, ...]) -> Row:
        seen = self.seen.get(code)
        if seen is None:
            return Row(code, "", ShapeKind.CLOCK, Role.QUIET, say("counter.looking", {}), "")
        kind = catalogues().kinds.get(seen.piece.kind)
        leads_to = meters if kind is not None and kind.is_chain_part else ()
        mark, role, word, says = self._stands(code, seen)
        return Row(code, named(seen), mark, role, word, says, leads_to, self.meters.get(code, ""))

    def _stands(self, code: str, seen: OnCounter) -> tuple[ShapeKind, Role, str, str]:
        if self.answer is None or not self._is_decided:
            return stands(seen)
        stops = [stop for stop in self.answer.verdict.stops if code in stop.subject.split("+")]
        if not stops:
            cautions = [say_finding(finding) for finding in self.answer.verdict.cautions if finding.subject == code]
            if cautions:
                word = say("counter.row.caution", {"count": len(cautions)})
                return ShapeKind.CLOCK, Role.WARN, word, " ".join(cautions)
            return ShapeKind.TICK, Role.FIT, say("counter.row.fits", {}), ""
        is_unknown = all(stop.outcome.value == "cannot-tell" for stop in stops)
        mark = ShapeKind.QUESTION if is_unknown else ShapeKind.CROSS
        return mark, Role.SHORT, say("counter.row.stops", {"count": len(stops)}), ""


def named(seen: OnCounter) -> str:
    """Kind and class of a piece, as short as it goes."""
    words = KINDS[seen.piece.kind]
    return words if seen.piece.insulation_class is None else say(
        "counter.row.classed", {"kind": words, "class": seen.piece.insulation_class}
    )  # fmt: skip


def stands(seen: OnCounter) -> tuple[ShapeKind, Role, str, str]:
    """How a piece stands by itself: mark, colour, word, reason."""
    if seen.row is None:
        return ShapeKind.QUESTION, Role.SHORT, say("counter.row.not-judged", {}), ""
    state = seen.row.status.state
    word = say("counter.row.status", {"state": state})
    if state in ("ready", "due-soon"):
        return ShapeKind.DISC, Role.QUIET, word, why(seen.row.status)
    if state == "inspect-today":
        return ShapeKind.CLOCK, Role.WARN, word, why(seen.row.status)
    return (ShapeKind.QUESTION if state == "cannot-tell" else ShapeKind.CROSS), Role.SHORT, word, why(seen.row.status)


def _waits(title: str, first: str) -> Decision:
    return Decision("wait", ShapeKind.CLOCK, Role.QUIET, title, first)


@dataclass
class ListState:
    """Pieces to be taken back, handed over, or entered as taken: a list, and what was seen on each."""

    is_return: bool = False
    kit: list[str] = field(default_factory=list)
    defects: dict[str, str] = field(default_factory=dict)
    seen: Mapping[str, OnCounter] = field(default_factory=dict)

    def add(self, codes: Iterable[str]) -> tuple[list[str], list[str]]:
        """Put pieces in the list; answers which are new there and which stood there already."""
        new: list[str] = []
        there: list[str] = []
        for code in codes:
            (there if code in self.kit or code in new else new).append(code)
        self.kit += new
        return new, there

    def remove(self, code: str) -> None:
        """Take a piece out of the list."""
        self.kit = [piece for piece in self.kit if piece != code]
        self.defects.pop(code, None)

    def clear(self) -> None:
        """Begin anew."""
        self.kit, self.defects, self.seen = [], {}, {}

    def rows(self) -> list[Row]:
        """Each piece with where it is: with whom and until when, or how it stands."""
        return [self._row(code) for code in self.kit]

    def _row(self, code: str) -> Row:
        seen = self.seen.get(code)
        if seen is None:
            return Row(code, "", ShapeKind.CLOCK, Role.QUIET, say("counter.looking", {}), "")
        mark, role, word, says = stands(seen)
        if seen.out is not None:
            until = seen.out.until
            key = "counter.row.out" if until is not None else "counter.row.out-open"
            mark, role, says = ShapeKind.DISC, Role.QUIET, ""
            word = say(key, {"person": seen.out.person, "until": until})
        elif seen.row is not None and seen.row.status.holder:
            mark, role = ShapeKind.DISC, Role.QUIET
            word, says = say("counter.row.with", {"holder": seen.row.status.holder}), ""
        elif self.is_return:
            mark, role, word, says = ShapeKind.CROSS, Role.SHORT, say("counter.row.not-out", {}), ""
        return Row(code, named(seen), mark, role, word, says)

    def blocked(self) -> str:
        """Why the list cannot be entered as it is, "" where nothing is known against it."""
        stray = [
            code for code in self.kit
            if self.is_return and (seen := self.seen.get(code)) is not None and seen.out is None
            and not (seen.row is not None and seen.row.status.holder)
        ]  # fmt: skip
        return say("counter.not-out", {"pieces": listed(stray)}) if stray else ""

    def defects_of(self, code: str) -> tuple[str, ...]:
        """The defects that can be found on this piece."""
        seen = self.seen.get(code)
        kind = None if seen is None else catalogues().kinds.get(seen.piece.kind)
        return tuple(DEFECTS) if kind is None else of_inspection(kind)

    def others(self) -> tuple[str, ...]:
        """What went out together with these pieces and is not in the list."""
        together = [other for code in self.kit if (seen := self.seen.get(code)) is not None for other in seen.together]
        return tuple(dict.fromkeys(other for other in together if other not in self.kit))
