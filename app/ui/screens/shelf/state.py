"""What the shelf shows and says: rows, their marks, what is filtered, what can be done with what is chosen."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from app.pictures.scene import Role, ShapeKind
from app.reports.due_list import why
from app.usecases.look_at_shelf import OnShelf
from app.words.saying import say
from app.words.vocabulary import KINDS, STANDINGS

# Standing -> the icon and colour it is shown with; the word stands beside it.
MARKS: dict[str, tuple[ShapeKind, Role]] = {
    "ready": (ShapeKind.TICK, Role.FIT), "check-due-today": (ShapeKind.CLOCK, Role.WARN),
    "due-soon": (ShapeKind.CLOCK, Role.WARN), "overdue": (ShapeKind.CROSS, Role.SHORT),
    "not-tested": (ShapeKind.CROSS, Role.SHORT), "certificate-not-seen": (ShapeKind.QUESTION, Role.SHORT),
    "cannot-tell": (ShapeKind.QUESTION, Role.SHORT), "held": (ShapeKind.CROSS, Role.SHORT),
    "out": (ShapeKind.DISC, Role.QUIET), "away": (ShapeKind.DISC, Role.QUIET), "lost": (ShapeKind.CROSS, Role.SHORT),
    "withdrawn": (ShapeKind.SQUARE, Role.QUIET),
}  # fmt: skip


@dataclass
class ShelfState:
    """What is narrowed; "" narrows nothing."""

    kind: str = ""
    standing: str = ""
    crib: str = ""
    words: str = ""

    def keeps(self) -> Callable[[OnShelf], bool] | None:
        """Which rows the choices keep; None where nothing is chosen, so that nobody asks each row."""
        if not (self.kind or self.standing or self.crib):
            return None
        return self._keeps

    def _keeps(self, row: OnShelf) -> bool:
        one = row.row.standing
        return (
            (not self.kind or one.piece.kind == self.kind)
            and (not self.standing or one.state == self.standing)
            and (not self.crib or row.row.crib == self.crib)
        )

    def filtered(self, shown: int, total: int) -> str:
        """How many are shown of how many, and by what."""
        if not total:
            return say("shelf.empty", {})
        parts = [
            *([KINDS[self.kind]] if self.kind else []), *([STANDINGS[self.standing]] if self.standing else []),
            *([self.crib] if self.crib else []), *([f'"{self.words}"'] if self.words.strip() else []),
        ]  # fmt: skip
        key = "shelf.filtered" if parts else "shelf.all"
        return say(key, {"shown": shown, "total": total, "by": ", ".join(parts)})


def kind_words(row: OnShelf) -> str:
    """The kind in words."""
    return KINDS[row.row.standing.piece.kind]


def standing_words(row: OnShelf) -> str:
    """The standing in words."""
    return STANDINGS[row.row.standing.state]


def until_words(row: OnShelf) -> str:
    """The last good day, "" where no date is known."""
    day = row.row.standing.use_until
    return "" if day is None else day.isoformat()


def why_words(row: OnShelf) -> str:
    """Why it stands so, made only for what is on the screen."""
    return why(row.row.standing)


def with_words(row: OnShelf) -> str:
    """With whom, or in which crib."""
    return row.row.standing.holder or row.row.crib


def searched(row: OnShelf) -> str:
    """What a filter looks in."""
    one = row.row.standing
    return (
        f"{one.piece.code} {row.label} {KINDS[one.piece.kind]} {STANDINGS[one.state]} {row.insulation_class} "
        f"{row.size} {one.holder} {row.row.crib} {until_words(row)}"
    )


def cribs_of(rows: Iterable[OnShelf]) -> list[str]:
    """The cribs there are."""
    return sorted({row.row.crib for row in rows})
