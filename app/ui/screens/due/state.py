"""What the due list shows: groups with their counts, what is filtered, and the months ahead."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from app.judging.standing import Standing
from app.reports.forecast import Forecast, forecast
from app.usecases.look_at_shelf import OnShelf
from app.words.saying import say

GROUPS = ("overdue", "soon", "doubt", "held", "away", "every")
_DOUBT = frozenset({"not-tested", "certificate-not-seen", "cannot-tell"})
_GONE = frozenset({"withdrawn", "lost"})


@dataclass
class DueState:
    """`days`: how far ahead "soon" looks; `group` is one of GROUPS; "" as crib narrows nothing."""

    today: date = date.min
    days: int = 30
    group: str = "overdue"
    crib: str = ""
    words: str = ""

    def belongs(self, one: Standing, group: str) -> bool:
        """Whether a piece stands in a group; one piece may stand in several, as where it is held and overdue."""
        if group == "every" or one.state in _GONE:
            return group == "every"
        last = self.today + timedelta(days=self.days)
        return {
            "overdue": one.is_past,
            "soon": not one.is_past and one.due_on is not None and one.due_on <= last,
            "doubt": one.state in _DOUBT,
            "held": one.state == "held",
            "away": one.state in ("out", "away") or bool(one.holder),
        }[group]

    def keeps(self) -> Callable[[OnShelf], bool]:
        """Which rows are listed."""
        return lambda row: (not self.crib or row.row.crib == self.crib) and self.belongs(row.row.standing, self.group)

    def counts(self, rows: Sequence[OnShelf]) -> Mapping[str, int]:
        """How many stand in each group, in the crib chosen."""
        mine = [row.row.standing for row in rows if not self.crib or row.row.crib == self.crib]
        return {group: sum(self.belongs(one, group) for one in mine) for group in GROUPS}

    def ahead(self, rows: Sequence[OnShelf]) -> Forecast:
        """Retests a month, in the crib chosen."""
        return forecast(
            (row.row.standing for row in rows if not self.crib or row.row.crib == self.crib), self.today
        )  # fmt: skip

    def listed(self, shown: int, total: int) -> str:
        """What is listed of how many, and by what it is filtered."""
        if not total:
            return say("due.empty", {})
        values: dict[str, object] = {
            "shown": shown, "total": total, "group": say(f"due.group.{self.group}", {}), "days": self.days,
            "crib": self.crib, "words": self.words.strip(),
        }  # fmt: skip
        parts = [say("due.listed", values)]
        if self.group == "soon":
            parts.append(say("due.listed-days", values))
        if self.crib:
            parts.append(say("due.listed-crib", values))
        if self.words.strip():
            parts.append(say("due.listed-words", values))
        return " ".join(parts)
