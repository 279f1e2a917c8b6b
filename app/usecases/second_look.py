"""Whether a second person has looked: after a correction that helped a piece, and after a part of it was replaced.

Rules judge what is recorded; who recorded it stands in the journal, so what asks for two people is asked here.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from msgspec import Struct

from app.decision.domain.entries import Entry, Name, unstruck
from app.decision.domain.errors import BadInput
from app.decision.domain.history import History, has_defect
from app.decision.domain.record import AirTest, AnyRecord, ElectricalTest, Event, Hold, Inspection, Record, Release
from app.decision.judging.catalogues import catalogues
from app.register.engine import Connection
from app.register.reads.lines import Line, line
from app.register.reads.pieces import Kept
from app.register.unit import Unit

T = TypeVar("T")


class Asking(Struct, frozen=True):
    """Who asks, outside an act: what a unit of work would be asked, with nothing written."""

    connection: Connection
    actor: str

    def read(self, question: Callable[[Connection], T]) -> T:
        """As a unit of work reads."""
        return question(self.connection)


def corrections_seen(unit: Unit | Asking, kept: Kept, history: History) -> None:
    """BadInput where whoever corrected releases, or nobody else has looked the piece over since the correction.

    Nothing of a certificate can be seen on the piece: where an electrical test was corrected, the second person's
    release itself says that they have compared the paper.
    """
    standing = unstruck(kept.entries)
    made_by = {entry.name: _actor(unit, entry.name) for entry in _open_corrections(standing)}
    if unit.actor in made_by.values():
        raise BadInput("release.by-another", thing=kept.piece.code, person=unit.actor)
    for entry in _open_corrections(standing):
        looks = [
            other for other in standing if _is_clean(other.record) and history.is_after(other.record, entry.record)
        ]
        by = made_by[entry.name]
        if not _is_of_a_test(unit, kept, entry) and all(by in _hands(unit, kept, look) for look in looks):
            raise BadInput("release.not-looked", thing=kept.piece.code, person=by)


def _open_corrections(unstruck: list[Entry]) -> list[Entry]:
    """Holds of corrections since the last release, which lifted those before it."""
    released = max((at for at, entry in enumerate(unstruck) if isinstance(entry.record, Release)), default=-1)
    later = unstruck[released + 1 :]
    return [entry for entry in later if isinstance(entry.record, Hold) and entry.record.why == "correction"]


def parts_seen(unit: Unit | Asking, kept: Kept, history: History, release: Release) -> None:
    """BadInput where a part was replaced and nobody but whoever replaced it has looked the piece over since.

    The rule asks for the replacement and the look where a hold or a defect is to be lifted; this asks whose they are.
    """
    kind = catalogues().kinds[kept.piece.kind]
    if not (kind.is_instrument or kind.is_chain_part):
        return
    # What came before an earlier release was asked then.
    before = [other for other in history.all(Release) if other is not release]
    looks = [look for look in history.all(Inspection) if _is_clean(look) and not history.is_after(look, release)]
    for repair in (event for event in history.all(Event) if event.kind == "repaired"):
        if any(history.is_after(other, repair) for other in before):
            continue
        by = _hands(unit, kept, _entry_of(kept, repair))
        since = [_hands(unit, kept, _entry_of(kept, look)) for look in looks if history.is_after(look, repair)]
        if not any(by.isdisjoint(hands) for hands in since):
            raise BadInput("release.part-by-one", thing=kept.piece.code, person=tuple(sorted(by)))


def _is_clean(record: AnyRecord | Record) -> bool:
    if isinstance(record, AirTest):
        return (record.left, record.right) == ("passed", "passed") and not has_defect(record)
    return isinstance(record, Inspection) and not has_defect(record)


def _is_of_a_test(unit: Unit | Asking, kept: Kept, hold: Entry) -> bool:
    """Whether the act that set this hold struck an electrical test, or put one right."""
    by_name, moment = {entry.name: entry for entry in kept.entries}, _made(unit, hold.name).at
    struck = [
        by_name[entry.strikes] for entry in kept.entries
        if entry.strikes in by_name and _made(unit, entry.name).at == moment
    ]  # fmt: skip
    return any(isinstance(entry.record, ElectricalTest) for entry in struck)


def _entry_of(kept: Kept, record: Record) -> Entry:
    return next(entry for entry in unstruck(kept.entries) if entry.record is record)


def _hands(unit: Unit | Asking, kept: Kept, entry: Entry) -> frozenset[str]:
    """Everybody whose hand an entry is by: whoever made it, and whoever made what it took the place of."""
    by_name = {entry.name: entry for entry in kept.entries}
    people = {_actor(unit, entry.name)}
    while entry.strikes is not None and entry.strikes in by_name:
        entry = by_name[entry.strikes]
        people.add(_actor(unit, entry.name))
    return frozenset(people)


def _actor(unit: Unit | Asking, name: Name) -> str:
    return _made(unit, name).actor


def _made(unit: Unit | Asking, name: Name) -> Line:
    entered = unit.read(lambda connection: line(connection, name))
    assert entered is not None
    return entered
