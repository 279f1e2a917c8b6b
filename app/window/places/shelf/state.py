"""What the shelf shows and says: rows, their marks, what is filtered, what can be done with what is chosen."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Literal

from msgspec import Struct

from app.decision.fields.words import CLASSES
from app.decision.judging.status import Status
from app.outputs.documents.due_list import why, with_said
from app.outputs.pictures.scene import Role, ShapeKind
from app.usecases.look_at_shelf import OnShelf, Shelf
from app.words.saying import limit_said, say
from app.words.vocabulary import KINDS, STATUSES

# Status -> the icon and colour it is shown with; the word stands beside it.
MARKS: dict[str, tuple[ShapeKind, Role]] = {
    "ready": (ShapeKind.TICK, Role.FIT), "inspect-today": (ShapeKind.CLOCK, Role.WARN),
    "due-soon": (ShapeKind.CLOCK, Role.WARN), "overdue": (ShapeKind.CROSS, Role.SHORT),
    "not-tested": (ShapeKind.CROSS, Role.SHORT), "certificate-not-seen": (ShapeKind.QUESTION, Role.SHORT),
    "cannot-tell": (ShapeKind.QUESTION, Role.SHORT), "on-hold": (ShapeKind.CROSS, Role.SHORT),
    "out": (ShapeKind.DISC, Role.QUIET), "away": (ShapeKind.DISC, Role.QUIET), "lost": (ShapeKind.CROSS, Role.SHORT),
    "withdrawn": (ShapeKind.SQUARE, Role.QUIET),
}  # fmt: skip
# What can be done with what is chosen -> its words on the button or in the menu.
ACTS: Mapping[str, str] = {
    "bench": "shelf.bench", "hold": "shelf.hold", "release": "shelf.release", "counter": "shelf.counter",
    "seen": "shelf.seen", "bag": "shelf.bag", "alias": "shelf.alias", "withdraw": "shelf.withdraw",
}  # fmt: skip
# With any other standing, what the marks allow is not all there is to say.
_FIT = frozenset({"ready", "due-soon"})
_OF_ONE = frozenset({"bench", "alias"})
_CLASS_ORDER = {"": -1, **{word: number for number, word in enumerate(CLASSES)}}
_OF_A_MARK = re.compile(r"\b(class|size)\s+([0-9][0-9.,]*)", re.IGNORECASE)
_STATUS_ORDER = {word: number for number, word in enumerate(STATUSES)}


class ShelfState(Struct):
    """What is narrowed; "" narrows nothing. `read`: how much of the shelf is there to be shown so far."""

    kind: str = ""
    status: str = ""
    crib: str = ""
    words: str = ""
    read: Literal["nothing", "first", "all"] = "nothing"
    total: int = 0
    left_out: int = 0

    def take(self, shelf: Shelf, read: Literal["first", "all"]) -> None:
        """Note how much there is, and how much of it is listed."""
        self.read, self.total = read, shelf.total
        self.left_out = shelf.total - len(shelf.rows) if read == "all" else 0

    def keeps(self) -> Callable[[OnShelf], bool] | None:
        """Which rows the choices keep; None where nothing is chosen, so that nobody asks each row."""
        if not (self.kind or self.status or self.crib):
            return None
        return self._keeps

    def _keeps(self, row: OnShelf) -> bool:
        status = row.row.status
        return (
            (not self.kind or status.piece.kind == self.kind)
            and (not self.status or status.state == self.status)
            and (not self.crib or row.row.crib == self.crib)
        )

    def filtered(self, shown: int, listed: int) -> str:
        """How many are shown of how many, and by what; what is not there to be shown is said beside it."""
        # Counted once the whole is there: figures load the language's data, and the first rows do not wait for that.
        if self.read != "all":
            return say("shelf.reading", {})
        if not self.total:
            return say("shelf.empty", {})
        says = [self._counted(shown, listed)]
        if self.left_out:
            says.append(say("shelf.left-out", {"count": self.left_out}))
        return " ".join(says)

    def _counted(self, shown: int, listed: int) -> str:
        parts = [
            *([KINDS[self.kind]] if self.kind else []), *([STATUSES[self.status]] if self.status else []),
            *([self.crib] if self.crib else []),
            *([say("shelf.by-words", {"words": self.words})] if self.words.strip() else []),
        ]  # fmt: skip
        if not parts:
            return say("shelf.all", {"count": listed})
        key = "shelf.filtered" if shown else "shelf.none-left"
        return say(key, {"shown": shown, "count": listed, "by": parts})


def why_not(act: str, count: int) -> str:
    """Why an act cannot be done with this many pieces chosen, "" where it can."""
    if not count:
        return say("shelf.choose", {})
    return say("shelf.one-only", {"count": count}) if count > 1 and act in _OF_ONE else ""


def chosen_words(count: int) -> str:
    """What stands above the card of the first where several are chosen."""
    return say("shelf.several", {"count": count}) if count > 1 else ""


def not_now(status: str) -> str:
    """What stands before the figures of the marks of a piece that may not be used as it stands; "" where it may."""
    return "" if status in _FIT else say("shelf.not-now", {"status": status})


def kind_words(row: OnShelf) -> str:
    """The kind in words."""
    return KINDS[row.row.status.piece.kind]


def status_words(row: OnShelf) -> str:
    """The standing in words."""
    return STATUSES[row.row.status.state]


def mark(row: OnShelf) -> tuple[ShapeKind, Role]:
    """Icon and colour of the standing."""
    return MARKS[row.row.status.state]


def status_order(row: OnShelf) -> int:
    """Statuses sort from ready to withdrawn, not by the alphabet."""
    return _STATUS_ORDER[row.row.status.state]


def class_order(row: OnShelf) -> int:
    """Classes sort as they rise: 00 comes before 0. What has none comes first."""
    return _CLASS_ORDER[row.insulation_class]


def size_order(row: OnShelf) -> float:
    """Sizes sort as figures: 9.5 comes before 10. What has none comes first."""
    return float(row.size or -1)


def until_words(row: OnShelf) -> str:
    """The last good day, "" where no date is known."""
    day = row.row.status.use_until
    return "" if day is None else day.isoformat()


def why_words(row: OnShelf) -> str:
    """Why it stands so, made only for what is on the screen."""
    return why(row.row.status)


def with_words(row: OnShelf) -> str:
    """With whom, or in which crib."""
    return with_said(row.row) or row.row.crib


def searched(row: OnShelf, reasons: dict[int, str] | None = None) -> str:
    """What a filter looks in. `reasons`: sentences made before, by the very reason they were made of."""
    status = row.row.status
    return (
        f"{status.piece.code} {row.label} {KINDS[status.piece.kind]} {STATUSES[status.state]} {row.insulation_class} "
        f"class:{row.insulation_class}; {row.size} size:{row.size}; {with_said(row.row)} {status.holder} "
        f"{row.row.crib} {until_words(row)} {_reason(status, {} if reasons is None else reasons)}"
    )


def _reason(status: Status, reasons: dict[int, str]) -> str:
    """The words of the reason without its piece; of a date alone, the words of what decides it."""
    note = status.why
    if status.is_of_a_date:
        return limit_said(status.decides)
    if id(note) not in reasons:
        reasons[id(note)] = say(note.key, {**note.values, "subject": ""})
    return reasons[id(note)]


def looked_for(words: str) -> str:
    """What is typed as the list looks for it: "class 00" and "size 10" mean that class and size and no other figure."""
    return _OF_A_MARK.sub(lambda match: f"{match[1]}:{match[2].replace(',', '.')};", words)


def texts(rows: Iterable[OnShelf]) -> list[str]:
    """What a filter looks in, row by row, as the list keeps it; made in the register's thread for a whole shelf."""
    # The rows keep their reasons alive meanwhile, so that each of them is the only one under its number.
    reasons: dict[int, str] = {}
    return [searched(row, reasons).casefold() for row in rows]


def kinds_of(rows: Iterable[OnShelf]) -> list[tuple[str, str]]:
    """The kinds there are pieces of, as key and words, in the order of the trade's list."""
    there = {row.row.status.piece.kind for row in rows}
    return [(key, words) for key, words in KINDS.items() if key in there]
