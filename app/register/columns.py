"""Column types of our own: what a Python value becomes in the file, on SQLite and PostgreSQL alike.

Only Text, Integer and LargeBinary lie underneath: a STRICT table takes nothing else, and no figure ever goes through
a floating-point number. Each type has one pair of functions, `stored` and `loaded`; the journal uses the first, so
that a line holds exactly what the row holds.
"""

from __future__ import annotations

import zlib
from collections.abc import Callable
from datetime import UTC, date, datetime, time
from typing import Any

import msgspec
from sqlalchemy import BigInteger, Integer, LargeBinary, Text
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator, TypeEngine

from app.decision.domain.calendar import Day
from app.register.canonical import canonical

Stored = str | int | bytes | None
BIG = 2**63


class OwnType(TypeDecorator[Any]):
    """A column type with one pair of functions; None stays None."""

    impl: Any = Text
    cache_ok = True

    def __init_subclass__(cls) -> None:
        # The library asks each class itself; what a column is made with is in all of ours part of the key.
        cls.cache_ok = True
        super().__init_subclass__()

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """Text in the order of its code points everywhere, as SQLite keeps it."""
        is_text = type(self).impl is Text and dialect.name != "sqlite"
        return Text(collation="C") if is_text else super().load_dialect_impl(dialect)

    def stored(self, value: Any) -> Stored:  # noqa: ANN401  # each type takes values of its own
        """What stands in the file."""
        return str(value)

    def loaded(self, value: Any) -> Any:  # noqa: ANN401
        """The value again."""
        return value

    def process_bind_param(self, value: Any, dialect: Dialect) -> Stored:  # noqa: ANN401
        """The file's form, for conditions in queries."""
        del dialect
        return None if value is None else self.stored(value)

    def process_result_value(self, value: Any, dialect: Dialect) -> Any:  # noqa: ANN401
        """Our form, for answers."""
        del dialect
        return None if value is None else self.loaded(value)


class Words(OwnType):
    """Text as it is; a character no file takes (NUL) is refused where it is typed, not here."""

    def stored(self, value: Any) -> str:  # noqa: ANN401
        """Only text."""
        if not isinstance(value, str):
            raise TypeError(type(value))
        return value


class IsoDay(OwnType):
    """A day as 2026-03-01."""

    def stored(self, value: Any) -> str:  # noqa: ANN401
        """ISO text, which also sorts."""
        return str(value.isoformat())

    def loaded(self, value: Any) -> date:  # noqa: ANN401
        """A date."""
        return date.fromisoformat(value)


class VagueDay(OwnType):
    """A day that may be known only as a month or a week, first and last with a stroke between; or a word for none."""

    cache_ok = True

    def stored(self, value: Any) -> str:  # noqa: ANN401
        """2026-03-01, 2026-03-01/2026-03-31, never or unknown."""
        if not isinstance(value, Day):
            return str(value)
        return value.first.isoformat() if value.is_exact else f"{value.first.isoformat()}/{value.last.isoformat()}"

    def loaded(self, value: Any) -> Any:  # noqa: ANN401
        """A day, or the word."""
        if value in ("never", "unknown"):
            return value
        first, _, last = value.partition("/")
        return Day(date.fromisoformat(first), date.fromisoformat(last or first))


class ClockTime(OwnType):
    """A time of day in the site's zone, as 07:05 or 07:05:09."""

    def stored(self, value: Any) -> str:  # noqa: ANN401
        """ISO text without needless seconds."""
        assert isinstance(value, time)
        return value.isoformat("minutes" if not value.second and not value.microsecond else "auto")

    def loaded(self, value: Any) -> time:  # noqa: ANN401
        """A time without a zone."""
        return time.fromisoformat(value)


class Instant(OwnType):
    """A moment in UTC with microseconds: one length, so that text order is time order."""

    def stored(self, value: Any) -> str:  # noqa: ANN401
        """Always 27 characters, ending in Z."""
        assert isinstance(value, datetime)
        moment = value.astimezone(UTC).replace(tzinfo=None)
        return f"{moment.isoformat(timespec='microseconds')}Z"

    def loaded(self, value: Any) -> datetime:  # noqa: ANN401
        """An aware moment."""
        return datetime.fromisoformat(value)


class WholeNumber(OwnType):
    """An integer of 64 bits; a fraction or a truth value is a mistake of ours."""

    impl = BigInteger

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """STRICT tables of SQLite know INTEGER only, which has 64 bits there."""
        return dialect.type_descriptor(Integer() if dialect.name == "sqlite" else BigInteger())

    def stored(self, value: Any) -> int:  # noqa: ANN401
        """The integer itself."""
        if isinstance(value, bool) or not isinstance(value, int) or not -BIG <= value < BIG:
            raise TypeError(value)
        return value


class Millivolts(WholeNumber):
    """Voltage in mV."""


class Volts(WholeNumber):
    """Test voltage in V, as certificates print it."""


class Millihertz(WholeNumber):
    """Frequency in mHz."""


class Microamperes(WholeNumber):
    """Current in uA."""


class Milliamperes(WholeNumber):
    """Current in mA."""


class Seconds(WholeNumber):
    """Duration in s."""


class Micrometres(WholeNumber):
    """Length in um."""


class Hundredths(WholeNumber):
    """A plain ratio or a glove size in hundredths."""


class Millicalories(WholeNumber):
    """Incident energy and arc rating in mcal/cm2."""


class YesNo(WholeNumber):
    """Yes or no as 1 or 0."""

    def stored(self, value: Any) -> int:  # noqa: ANN401
        """1 or 0."""
        if not isinstance(value, bool):
            raise TypeError(value)
        return int(value)

    def loaded(self, value: Any) -> bool:  # noqa: ANN401
        """True or false."""
        return bool(value)


class Canonical(OwnType):
    """A small nested value as canonical JSON text; `shape` says what comes back."""

    def __init__(self, shape: Any) -> None:  # noqa: ANN401  # any type msgspec can build
        super().__init__()
        self.shape = shape
        self._decode: Callable[[str], Any] = msgspec.json.Decoder(shape).decode

    def stored(self, value: Any) -> str:  # noqa: ANN401
        """Keys in order, no blanks."""
        return canonical(value)

    def loaded(self, value: Any) -> Any:  # noqa: ANN401
        """The value of the declared shape."""
        return self._decode(value)


class Packed(OwnType):
    """A large value as canonical JSON, compressed; read back as plain values."""

    impl = LargeBinary

    def stored(self, value: Any) -> bytes:  # noqa: ANN401
        """Zlib bytes of the canonical text."""
        return zlib.compress(canonical(value).encode("utf-8"), 6)

    def loaded(self, value: Any) -> Any:  # noqa: ANN401
        """Plain values."""
        return msgspec.json.decode(zlib.decompress(value))


class Bytes32(OwnType):
    """A SHA-256 value."""

    impl = LargeBinary

    def stored(self, value: Any) -> bytes:  # noqa: ANN401
        """The bytes themselves."""
        assert isinstance(value, bytes)
        return value


def own_type(kind: TypeEngine[Any]) -> OwnType:
    """The column's type, which is always one of ours."""
    assert isinstance(kind, OwnType)
    return kind
