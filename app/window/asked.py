"""Fields declared by the keys of their words, and made with the form that asks them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from app.decision.domain.errors import BadInput
from app.window.forms import ChoiceField, DayField, Field, FigureField, TextField
from app.window.shell import Shell
from app.words.saying import say
from app.words.vocabulary import UNIT_NAMES

#: Makes a field.
Asked = Callable[[Shell], Field[Any]]
#: What can be chosen: key and words.
Options = Iterable[tuple[str, str]]


class PastDay(DayField):
    """A day that has come; one ahead is complained about in the field itself."""

    def value(self) -> date | None:
        """The day; BadInput for one ahead."""
        day, today = super().value(), self._today()
        if day is not None and day > today:
            raise BadInput("entry.ahead", thing=str(day), today=str(today))
        return day


def past_day(words: str, *, hint: str = "", is_needed: bool = False) -> Asked:
    """A day that has come."""
    return lambda shell: PastDay(
        say(words, {}), lambda: shell.here.today, hint=say(hint, {}) if hint else None, is_needed=is_needed
    )


def any_day(words: str, *, is_needed: bool = False) -> Asked:
    """A day."""
    return lambda shell: DayField(say(words, {}), lambda: shell.here.today, is_needed=is_needed)


def figure(words: str, unit: str = "", decimals: int = 0, *, most: int = 10_000_000) -> Asked:
    """A figure with its unit."""
    return lambda _: FigureField(say(words, {}), UNIT_NAMES.get(unit, unit), decimals, most=most)


def words_of(words: str, *, is_needed: bool = False) -> Asked:
    """Words."""
    return lambda _: TextField(say(words, {}), is_needed=is_needed)


def choice(words: str, options: Callable[[], Options], *, none: str = "", is_needed: bool = False) -> Asked:
    """One of a few. `options` are asked for with the form; `none`: the key of what nothing chosen means."""
    return lambda _: ChoiceField(
        say(words, {}), options(), none=say(none, {}) if none else "", is_needed=is_needed
    )  # fmt: skip


def said(options: Mapping[str, str]) -> Callable[[], Options]:
    """Options whose words the catalogue has under these keys."""
    return lambda: [(key, say(words, {})) for key, words in options.items()]


def plain(words: Sequence[str]) -> Callable[[], Options]:
    """Options that say their own key."""
    return lambda: [(word, word) for word in words]
