"""The catalogue: every message by key, one file a language.

A message is text with named values, or a table of such texts by the plural categories of CLDR ("one", "other", ...),
of which the value `count` decides. `locale` names whose numbers, lists and dates go with it.
"""

from __future__ import annotations

import json
import pkgutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING

from app.decision.domain.errors import ProgramFault

if TYPE_CHECKING:
    from babel import Locale

DEFAULT = "en"
Message = str | Mapping[str, str]


def _once(pairs: list[tuple[str, Message]]) -> dict[str, Message]:
    table = dict(pairs)
    if len(table) < len(pairs):
        keys = [key for key, _ in pairs]
        raise ProgramFault("words.key-twice", thing=next(key for key in keys if keys.count(key) > 1))
    return table


class Catalogue(Mapping[str, Message]):
    """The messages of the language in use; what is kept of it follows when another is spoken."""

    def __init__(self) -> None:
        self._messages: Mapping[str, Message] | None = None
        self._locale: Locale | None = None

    def speak(self, language: str = DEFAULT, messages: Mapping[str, Message] | None = None) -> None:
        """Use the catalogue of this language from here on, or these messages; OSError where there is no such file."""
        self._messages, self._locale = messages or read(language), None

    @contextmanager
    def spoken(self, messages: Mapping[str, Message]) -> Iterator[None]:
        """These messages for a while, the others as they are."""
        before = self._messages, self._locale
        self.speak(messages={**self.messages, **messages})
        try:
            yield
        finally:
            self._messages, self._locale = before

    def texts(self) -> dict[str, str]:
        """Every message as one text, of one with plurals the text for many."""
        return {key: message if isinstance(message, str) else message["other"] for key, message in self.items()}

    @property
    def messages(self) -> Mapping[str, Message]:
        """Every message, read with the first question."""
        if self._messages is None:
            self._messages = read(DEFAULT)
        return self._messages

    @property
    def locale(self) -> Locale:
        """Whose plurals, numbers, lists and dates are used."""
        if self._locale is None:
            # 20 ms that a window's first paint and a start that shows nothing do without.
            from babel import Locale  # noqa: PLC0415

            self._locale = Locale.parse(str(self.messages["locale"]))
        return self._locale

    def __getitem__(self, key: str) -> Message:
        """The message; KeyError where none is."""
        return self.messages[key]

    def __iter__(self) -> Iterator[str]:
        """Every key."""
        return iter(self.messages)

    def __len__(self) -> int:
        """How many there are."""
        return len(self.messages)


def languages() -> list[str]:
    """The languages there are: the files of messages beside this one."""
    from importlib import resources  # noqa: PLC0415  # only where a language is asked for, which few starts do

    files = (entry.name for entry in resources.files("app.words").iterdir())
    return sorted(name.removesuffix(".json") for name in files if name.endswith(".json"))


def read(language: str) -> dict[str, Message]:
    """The messages of one language, as its file beside this one has them; ProgramFault for a key that stands twice."""
    written = pkgutil.get_data("app.words", f"{language}.json")
    assert written is not None
    messages: dict[str, Message] = json.loads(written, object_pairs_hook=_once)
    return messages


CATALOGUE = Catalogue()
