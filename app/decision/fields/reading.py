"""Reading one table: every key has a reader, every mistake names key, place and the nearest known word."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date, datetime, time
from decimal import Decimal, InvalidOperation
from typing import NoReturn

from app.decision.domain.calendar import Day
from app.decision.domain.errors import BadInput

Reader = Callable[[object], object]
Table = Mapping[str, object]


class Unreadable(Exception):
    """A value its reader cannot take; `expected` names the sentence part that says what it should be."""

    def __init__(self, expected: str, known: Iterable[str] = ()) -> None:
        super().__init__(expected)
        self.expected = expected
        self.known = tuple(known)


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word most like `word`, "" where none is."""
    # Only a slip is compared with what is known, and a start has none.
    from difflib import get_close_matches  # noqa: PLC0415

    close = get_close_matches(word, list(known), n=1, cutoff=0.4)
    return close[0] if close else ""


def read_table(table: Table, readers: Mapping[str, Reader], names: Mapping[str, str], place: str) -> dict[str, object]:
    """Read every key of `table` by its reader; answers name -> value under our own names.

    Raises BadInput for an unknown key (naming the nearest) and for a value a reader cannot take.
    """
    found: dict[str, object] = {}
    for key, value in table.items():
        reader = readers.get(key)
        if reader is None:
            raise BadInput("case.unknown-key", place=place, thing=key, nearest=nearest(key, readers))
        try:
            found[names.get(key, key)] = reader(value)
        except Unreadable as fault:
            _complain(fault, key, value, place)
    return found


def _complain(fault: Unreadable, key: str, value: object, place: str) -> NoReturn:
    if fault.known:
        close = nearest(str(value), fault.known)
        raise BadInput(
            "case.unknown-word", place=place, thing=f"{key} = {value}", nearest=close, known=fault.known
        ) from fault
    raise BadInput(f"case.{fault.expected}", place=place, thing=f"{key} = {value}") from fault


def require(table: Table, keys: Iterable[str], place: str) -> None:
    """Raise BadInput for the first key that is not there."""
    for key in keys:
        if key not in table:
            raise BadInput("case.key-missing", place=place, thing=key)


def as_table(value: object, place: str, thing: str) -> Table:
    """A TOML table, or BadInput."""
    if not isinstance(value, Mapping):
        raise BadInput("case.not-a-table", place=place, thing=thing)
    return value


def as_tables(value: object, place: str, thing: str) -> list[Table]:
    """A list of TOML tables, or BadInput."""
    if not isinstance(value, list):
        raise BadInput("case.not-a-list", place=place, thing=thing)
    return [as_table(item, place, thing) for item in value]


def text(value: object) -> str:
    """Words, not empty."""
    if not isinstance(value, str) or not value.strip():
        raise Unreadable("not-words")
    return value.strip()


def yes_no(value: object) -> bool:
    """True or false."""
    if not isinstance(value, bool):
        raise Unreadable("not-yes-no")
    return value


def whole(value: object) -> int:
    """A whole number, zero or more."""
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        raise Unreadable("not-a-whole-number")
    return value


def scaled(places: int, *, least: int | None = 0, most: int = 10**9) -> Callable[[object], int]:
    """A number kept as an integer with `places` decimals; finer figures are refused, never rounded."""

    def read(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, (int, float, Decimal)):
            raise Unreadable("not-a-number")
        try:
            number = Decimal(str(value)).scaleb(places)
        except InvalidOperation:
            raise Unreadable("not-a-number") from None
        if not number.is_finite() or number != number.to_integral_value():
            raise Unreadable("too-fine")
        if (least is not None and number < least) or abs(number) > most * 10**places:
            raise Unreadable("out-of-range")
        return int(number)

    return read


def one_of(*words: str) -> Callable[[object], str]:
    """One word of a list; numbers are taken as written (class = 0)."""

    def read(value: object) -> str:
        word = str(value).strip() if isinstance(value, (str, int)) and not isinstance(value, bool) else ""
        if word not in words:
            raise Unreadable("unknown-word", words)
        return word

    return read


def words_of(*words: str) -> Callable[[object], tuple[str, ...]]:
    """A list of words of a list; any words where none are given."""

    def read(value: object) -> tuple[str, ...]:
        if not isinstance(value, list):
            raise Unreadable("not-a-list")
        if not words:
            return tuple(text(item) for item in value)
        return tuple(one_of(*words)(item) for item in value)

    return read


def some_of(*words: str) -> Callable[[object], tuple[str, ...]]:
    """At least one word of a list: an empty choice would leave nothing to judge by."""
    read_words = words_of(*words)

    def read(value: object) -> tuple[str, ...]:
        found = read_words(value)
        if not found:
            raise Unreadable("unknown-word", words)
        return found

    return read


def exact_day(value: object) -> date:
    """A day as a TOML date or as "2026-03-01"."""
    if isinstance(value, datetime) or not isinstance(value, (date, str)):
        raise Unreadable("not-a-day")
    try:
        day = Day.parse(value)
    except ValueError:
        raise Unreadable("not-a-day") from None
    if not day.is_exact:
        raise Unreadable("not-an-exact-day")
    return day.first


def any_day(value: object) -> Day:
    """A day, a month "2025-03" or an ISO week "2025-W10"."""
    if isinstance(value, datetime) or not isinstance(value, (date, str)):
        raise Unreadable("not-a-day")
    try:
        return Day.parse(value)
    except (ValueError, OverflowError):
        raise Unreadable("not-a-day") from None


def clock_time(value: object) -> time:
    """A time as "06:30", or a TOML time."""
    if isinstance(value, time):
        return value.replace(tzinfo=None)
    try:
        return time.fromisoformat(str(value))
    except ValueError:
        raise Unreadable("not-a-time") from None
