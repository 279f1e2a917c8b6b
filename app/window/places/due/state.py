"""What the due list shows: groups with their counts, what is filtered, what is exported, and the months ahead."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from types import MappingProxyType
from typing import Literal

from msgspec import Struct, field

from app.decision.judging.answers import DueRow
from app.outputs.documents.due_list import why, with_said
from app.outputs.documents.forecast import Forecast, forecast
from app.usecases.look_at_shelf import OnShelf, Shelf
from app.words.saying import listed, say
from app.words.vocabulary import STATUSES

GROUPS = ("overdue", "soon", "doubt", "on-hold", "away", "every")
_DOUBT = frozenset({"not-tested", "certificate-not-seen", "cannot-tell"})
_GONE = frozenset({"withdrawn", "lost"})


class DueState(Struct):
    """`site_days`: the site's warning days; `days`: those somebody asks for in their place, None for the site's.

    `group` is one of GROUPS; "" as crib narrows nothing; `names`: people in words by code. `read`: how much of the
    register is there to be listed so far, `total` how many pieces it has.
    """

    today: date = date.min
    site_days: int = 30
    days: int | None = None
    group: str = "overdue"
    crib: str = ""
    words: str = ""
    names: Mapping[str, str] = field(default_factory=dict)
    read: Literal["nothing", "first", "all"] = "nothing"
    total: int = 0

    def take(self, shelf: Shelf, read: Literal["first", "all"]) -> None:
        """Note the day, the site's days, how much there is, and how much of it is listed."""
        self.today, self.site_days = shelf.facts.on, shelf.facts.site.warning_days
        self.read, self.total = read, shelf.total

    @property
    def within(self) -> int:
        """How many days ahead "soon" looks."""
        return self.site_days if self.days is None else self.days

    def belongs(self, row: DueRow, group: str) -> bool:
        """Whether a piece stands in a group; one piece may stand in several, as where it is held and overdue.

        "soon" counts to the last good day, as the standing "due soon" does, so that the two never disagree.
        """
        status = row.status
        if group == "every" or status.state in _GONE:
            return group == "every"
        if group == "overdue":
            return status.is_past
        if group == "soon":
            # The last good day is the day before the due day.
            return status.due_on is not None and 0 < (status.due_on - self.today).days <= self.within + 1
        if group == "doubt":
            return status.state in _DOUBT
        if group == "on-hold":
            return status.state == "on-hold"
        return status.state in ("out", "away") or bool(status.holder or row.out_with)

    def keeps(self) -> Callable[[OnShelf], bool] | None:
        """Which rows are listed; None where it is all of them, so that nobody asks each row."""
        crib, group = self.crib, self.group
        if group == "every":
            return self._is_of_crib if crib else None
        if not crib:
            return lambda row: self.belongs(row.row, group)
        return lambda row: row.row.crib == crib and self.belongs(row.row, group)

    def _is_of_crib(self, row: OnShelf) -> bool:
        return not self.crib or row.row.crib == self.crib

    def counts(self, rows: Sequence[OnShelf]) -> Mapping[str, int]:
        """How many stand in each group, in the crib chosen; what is typed narrows the list and not these."""
        mine = [row.row for row in rows if self._is_of_crib(row)]
        return {group: sum(self.belongs(row, group) for row in mine) for group in GROUPS}

    def ahead(self, rows: Sequence[OnShelf]) -> Forecast:
        """Retests a month, in the crib chosen."""
        return forecast((row.row.status for row in rows if self._is_of_crib(row)), self.today)

    def listed(self, shown: int, there: int, standings: Mapping[str, int] = MappingProxyType({})) -> str:
        """What is listed of how many, by what it is filtered, and what is not there to be listed.

        `standings`: how many of those listed stand as what; told where the day alone makes the group, as the same word
        means fewer on the shelf.
        """
        if self.read == "nothing":
            return say("due.reading", {})
        if not self.total:
            return say("due.empty", {})
        values: dict[str, object] = {
            "shown": shown, "count": there, "group": say(f"due.group.{self.group}.full", {}), "days": self.within,
            "crib": self.crib, "words": self.words.strip(),
        }  # fmt: skip
        parts = [say("due.listed", values)]
        if self.group == "overdue" and set(standings) - {"overdue"}:
            parts.append(say("due.listed-as", {"statuses": listed(_as_what(standings))}))
        if self.group == "soon":
            parts.append(say("due.listed-site-days" if self.days is None else "due.listed-days", values))
        if self.crib:
            parts.append(say("due.listed-crib", values))
        if self.words.strip():
            parts.append(say("due.listed-words", values))
        if there < self.total:
            key = "due.listed-first" if self.read == "first" else "due.listed-not-judged"
            parts.append(say(key, {"there": there, "total": self.total, "count": self.total - there}))
        return " ".join(parts)

    def not_listed(self, code: str, row: OnShelf | None) -> str:
        """Why a piece is not in the list shown, and how it stands."""
        if row is None:
            return say("due.not-there", {"piece": code})
        if not self.belongs(row.row, self.group):
            key = "due.not-of-group"
        elif not self._is_of_crib(row):
            key = "due.not-of-crib"
        else:
            key = "due.not-of-words"
        values = {
            "piece": code, "group": say(f"due.group.{self.group}", {}), "crib": self.crib, "words": self.words.strip(),
        }  # fmt: skip
        return f"{say(key, values)} {self._stands(row)}"

    def _stands(self, row: OnShelf) -> str:
        status = row.row.status
        who = with_said(row.row, self.names)
        place = say("due.about-with", {"who": who}) if who else row.row.crib
        return say("due.stands", {"status": status.state, "place": place, "why": why(status)})

    def about(self, row: OnShelf | None) -> str:
        """The chosen row in a sentence, read where the column of reasons is too narrow."""
        if row is None:
            return say("due.choose-row", {})
        status = row.row.status
        # A person's name is shown here and goes into no exported file: those keep the codes.
        who = with_said(row.row, self.names)
        place = say("due.about-with", {"who": who}) if who else row.row.crib
        values = {
            "piece": row.code,
            "status": status.state,
            "kind": status.piece.kind,
            "place": place,
            "why": why(status),
        }
        return say("due.about", values)


def statuses_of(rows: Iterable[OnShelf]) -> Mapping[str, int]:
    """How many of these stand as what."""
    return Counter(row.row.status.state for row in rows)


def _as_what(standings: Mapping[str, int]) -> list[str]:
    return [
        say("due.listed-as-one", {"count": standings[key], "status": key}) for key in STATUSES if standings.get(key)
    ]


def due_words(row: OnShelf) -> str:
    """The day a retest is due, "" where none is known."""
    day = row.row.status.due_on
    return "" if day is None else day.isoformat()


def due_order(row: OnShelf) -> date:
    """By due day, what has none last."""
    return row.row.status.due_on or date.max


def with_whom(row: OnShelf) -> str:
    """Who or what has a piece, by code; its crib stands in a column of its own."""
    who = with_said(row.row)
    return who or ("" if row.row.status.state in _GONE else say("due.in-crib", {}))


def cribs_of(rows: Iterable[OnShelf]) -> list[str]:
    """The cribs there are pieces of."""
    return sorted({row.row.crib for row in rows})
