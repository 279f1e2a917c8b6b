"""What the program knows of one depot at one time: pieces, people, systems, site rules. Read from files, or a store."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from msgspec import Struct, field

from app.decision.domain.limits import SiteRules
from app.decision.domain.piece import Person, Piece
from app.decision.domain.record import AnyRecord
from app.decision.domain.voltage import Circuit


class System(Struct, frozen=True):
    """A vehicle, charger or storage battery with its galvanic circuits."""

    code: str
    name: str
    circuits: tuple[Circuit, ...]


class Depot(Struct, frozen=True):
    """People, systems and site rules. `demo_day` is set only in the invented depot, which takes no real entries."""

    site: SiteRules = field(default_factory=SiteRules)
    rule_sets: tuple[str, ...] = ("us-osha-137",)
    people: Mapping[str, Person] = field(default_factory=dict)
    systems: Mapping[str, System] = field(default_factory=dict)
    demo_day: date | None = None
    timezone: str = ""


class Check(Struct, frozen=True):
    """One record of the day's checks, and the piece it is about."""

    piece: str
    record: AnyRecord


class Register(Struct, frozen=True):
    """One depot's kit beside its people and systems. `cribs`: piece -> crib; `bad`: code -> (row in words, why)."""

    depot: Depot
    pieces: Mapping[str, Piece]
    cribs: Mapping[str, str] = field(default_factory=dict)
    bad: Mapping[str, tuple[str, str]] = field(default_factory=dict)
