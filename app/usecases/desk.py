"""The desk at which everything is asked and entered: one register, one clock, one way to write."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, time, tzinfo
from typing import Protocol, TypeVar
from zoneinfo import ZoneInfo

from app.domain.case.reading import nearest
from app.domain.errors import BadInput, StoreTrouble
from app.domain.limits import RuleSet, SiteRules
from app.domain.register import Depot
from app.judging.catalogues import rule_sets_of
from app.store.engine import Connection, Store
from app.store.journal import SITE_BOOK
from app.store.reads import register
from app.store.reads.lines import heads
from app.store.reads.register import people_kept
from app.store.unit import Unit
from app.store.writes.standings import digest_kept, rules_digest, stand_all, stand_anew

T = TypeVar("T")


class Clock(Protocol):
    """Tells the moment, with a zone."""

    def __call__(self) -> datetime:
        """Now, aware."""
        ...


class Desk:
    """A register with the clock it is used by. `local`: the zone where the site names none."""

    def __init__(self, store: Store, clock: Clock, local: tzinfo, after: Callable[[Unit], None] | None = None) -> None:
        self.store = store
        self._clock = clock
        self._local = local
        self._after = after
        depot = store.ask(lambda connection: register.depot_without_kit(connection, (), ()))
        self._zone = self._zone_of(depot)
        self.demo_day = depot.demo_day
        self._stand_under(depot)

    def ask(self, read: Callable[[Connection], T]) -> T:
        """One question in one short transaction."""
        return self.store.ask(read)

    @contextmanager
    def write(self, by: str, *, setting_up: bool = False) -> Iterator[Unit]:
        """One act of one person: all of it or nothing, standings included.

        BadInput for somebody nobody knows, and in the demo register, which takes no real entries. `setting_up`: the
        first person of an empty register enters themselves.
        """
        if self.demo_day is not None:
            raise BadInput("demo.no-entries", file=str(self.store.path), thing=str(self.demo_day))
        now = self._clock()
        with self.store.writing() as connection:
            known = people_kept(connection)
            if by not in known and (known or not setting_up):
                key = "by.unknown" if known else "by.nobody-yet"
                raise BadInput(key, thing=by, nearest=nearest(by, known))
            unit = Unit(connection, by, now)
            yield unit
            self._finish(unit)
        if self._after is not None:
            self._after(unit)

    def today(self) -> date:
        """The day by the site's zone; in the demo register its own day."""
        return self.demo_day or self._clock().astimezone(self._zone).date()

    def now(self) -> time:
        """The time of day by the site's zone, to the microsecond, so that acts of one day keep their order."""
        return self._clock().astimezone(self._zone).time()

    def zone(self) -> tzinfo:
        """The site's zone, in which moments are shown."""
        return self._zone

    def anchors(self) -> dict[str, str]:
        """Book -> its last entry's number and the beginning of its hash, for prints."""
        return {book: head.anchor for book, head in self.ask(heads).items()}

    def rules(self, unit: Unit) -> tuple[SiteRules, tuple[RuleSet, ...]]:
        """Site rules and rule sets as they stand in this unit."""
        depot = unit.read(lambda connection: register.depot_without_kit(connection, (), ()))
        return depot.site, rule_sets_of(depot)

    def _finish(self, unit: Unit) -> None:
        unit.flush()
        site, rule_sets = self.rules(unit)
        digest = rules_digest(site, rule_sets)
        if digest != digest_kept(unit.connection):
            stand_all(unit.connection, site, rule_sets)
        elif unit.touched:
            stand_anew(unit.connection, unit.touched, site, rule_sets)
        if any(name.book == SITE_BOOK for name in unit.names):
            depot = register.depot_without_kit(unit.connection, (), ())
            self._zone, self.demo_day = self._zone_of(depot), depot.demo_day

    def _zone_of(self, depot: Depot) -> tzinfo:
        return ZoneInfo(depot.timezone) if depot.timezone else self._local

    def _stand_under(self, depot: Depot) -> None:
        """Standings hold for one way of judging; under another they are all worked out before the first list."""
        rule_sets = rule_sets_of(depot)
        digest = rules_digest(depot.site, rule_sets)
        if self.store.ask(digest_kept) == digest:
            return
        if self.store.is_read_only:
            raise StoreTrouble("store.standings-old", file=str(self.store.path), thing=str(self.store.path))
        with self.store.writing() as connection:
            stand_all(connection, depot.site, rule_sets)
