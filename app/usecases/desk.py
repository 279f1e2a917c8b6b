"""The desk at which everything is asked and entered: one register, one clock, one way to write."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date, datetime, time, tzinfo
from typing import Protocol, TypeVar
from zoneinfo import ZoneInfo

from msgspec import Struct

from app.decision.domain.errors import BadInput, StoreTrouble
from app.decision.domain.limits import RuleSet, SiteRules
from app.decision.domain.piece import Person
from app.decision.domain.register import Depot
from app.decision.fields.reading import nearest
from app.decision.judging.catalogues import rule_sets_of
from app.register.derived import digest_kept, rules_digest
from app.register.engine import Connection, Store
from app.register.journal import SITE_BOOK, Head
from app.register.reads import register
from app.register.reads.lines import heads
from app.register.unit import Unit, head_of
from app.register.writes.statuses import put_checked, put_statuses, stand_all, stand_anew, status_row
from app.usecases.books import Books

T = TypeVar("T")
S = TypeVar("S")
#: who enters what is only foreseen: nobody yet
NOBODY_YET = "?"


class Clock(Protocol):
    """Tells the moment, with a zone."""

    def __call__(self) -> datetime:
        """Now, aware."""
        ...


class Site(Struct, frozen=True):
    """What the site's book says up to one line of it: people, rules, sets, and the digest standings hold for."""

    head: Head
    people: Mapping[str, Person]
    depot: Depot
    rule_sets: tuple[RuleSet, ...]
    digest: str


class Desk:
    """A register with the clock it is used by. `local`: the zone where the site names none."""

    def __init__(self, store: Store, clock: Clock, local: tzinfo) -> None:
        self.store = store
        self._clock = clock
        self._local = local
        self._known: Site | None = None
        self._after_trial: Callable[[Connection], None] | None = None
        self._take_in(store.ask(self._site))
        self._stand_anew_if_old()

    def ask(self, read: Callable[[Connection], T]) -> T:
        """One question in one short transaction."""
        return self.store.ask(read)

    @contextmanager
    def write(self, by: str, *, books: Books, setting_up: bool = False) -> Iterator[Unit]:
        """One act of one person: all of it or nothing, standings included. `books`: those it writes in.

        BadInput for somebody nobody knows, and in the demo register, which takes no real entries. `setting_up`: the
        first person of an empty register enters themselves.
        """
        after = self._after_trial
        if after is None:
            self._not_in_demo()
        with self.store.writing(is_kept=after is None) as connection:
            declared = books(connection)
            # Read behind the lock: entries of one book follow each other in time as they do in number.
            now = self._clock()
            site = self._site(connection)
            # Somebody else may have given the register another zone, or its own day, since it was opened here.
            self._take_in(site)
            if after is None:
                self._may_write(by, site.people, setting_up=setting_up)
            unit = Unit(connection, by, now, declared)
            yield unit
            self._finish(unit)
            if after is not None:
                after(connection)

    def foresee(self, act: Callable[[Desk], T], after: Callable[[Connection], S]) -> tuple[T, S]:
        """What an act of one unit answers, and a question asked after it: the act itself, in a unit rolled back.

        In the demo register too, and before anybody is named. BadInput as the act gives it; StoreTrouble in a register
        that cannot be written to.
        """
        answers: list[S] = []
        self._after_trial = lambda connection: answers.append(after(connection))
        try:
            answered = act(self)
        finally:
            self._after_trial = None
        return answered, answers[0]

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
        site = unit.read(self._site)
        return site.depot.site, site.rule_sets

    def _site(self, connection: Connection) -> Site:
        """What the site's book says now, read again only where its last line is another than before.

        The line's hash holds everything before it, so whatever anybody has written since shows in it; it is looked up
        in the transaction that asks.
        """
        head = head_of(connection, SITE_BOOK)
        if self._known is None or self._known.head != head:
            depot = register.depot_without_kit(connection, None, ())
            rule_sets = rule_sets_of(depot)
            self._known = Site(head, depot.people, depot, rule_sets, rules_digest(depot.site, rule_sets))
        return self._known

    def _finish(self, unit: Unit) -> None:
        unit.flush()
        connection = unit.connection
        # Nobody else can have written since this unit began: the site's book is read again only where we wrote in it.
        wrote_site = any(name.book == SITE_BOOK for name in unit.names)
        site = self._site(connection) if wrote_site or self._known is None else self._known
        if site.digest != digest_kept(connection):
            stand_all(connection, site.depot.site, site.rule_sets)
        elif unit.touched and not _put_lone_check(unit, site):
            known = list(unit.known())
            put_statuses(connection, [status_row(status, site.depot.site, site.rule_sets) for status in known])
            others = set(unit.touched) - {status.piece.code for status in known}
            stand_anew(connection, sorted(others), site.depot.site, site.rule_sets)
        if wrote_site:
            self._take_in(site)

    def _may_write(self, by: str, people: Mapping[str, Person], *, setting_up: bool) -> None:
        self._not_in_demo()
        if by not in people and (people or not setting_up):
            raise BadInput("by.unknown" if people else "by.nobody-yet", thing=by, nearest=nearest(by, people))

    def _not_in_demo(self) -> None:
        if self.demo_day is not None:
            raise BadInput("demo.no-entries", file=str(self.store.path), thing=str(self.demo_day))

    def _take_in(self, site: Site) -> None:
        depot = site.depot
        self._zone = ZoneInfo(depot.timezone) if depot.timezone else self._local
        self.demo_day = depot.demo_day

    def _stand_anew_if_old(self) -> None:
        """Statuses hold for one way of judging; under another they are all worked out before the first list."""
        if self.store.ask(digest_kept) == self.store.ask(self._site).digest:
            return
        if self.store.is_read_only:
            raise StoreTrouble("store.standings-old", file=str(self.store.path), thing=str(self.store.path))
        with self.store.writing() as connection:
            site = self._site(connection)
            stand_all(connection, site.depot.site, site.rule_sets)


def _put_lone_check(unit: Unit, site: Site) -> bool:
    """Put what the unit's only entry moves, where it is a check that leaves the rest of its piece's standing."""
    alone = unit.lone_entry()
    if alone is None:
        return False
    kept, entry = alone
    return put_checked(unit.connection, kept, entry.record, site.depot.site, site.rule_sets)
