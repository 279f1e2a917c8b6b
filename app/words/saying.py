"""Key and values to a sentence: volts, days, lists and the trade's words are put into form here and nowhere else.

In a sentence {x:volts} is volts with thousands marks, {x:day} an ISO day, {x:kind} the trade's word for a key.
"""

from __future__ import annotations

import string
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from importlib import import_module
from threading import RLock

from app.domain.errors import CuffdateError, ProgramFault
from app.domain.finding import Finding
from app.words.vocabulary import EVERYTHING, limit_said

# In the order in which a start asks for them: a window opens with the words of its first place alone.
_TABLES = (
    "window_sentences", "screens", "shelf_sentences", "due_sentences", "counter_sentences", "bench_sentences",
    "start_sentences", "register_sentences", "findings", "cures", "faults", "intake_sentences", "picture_sentences",
    "rules_sentences", "rule_page_sentences",
)  # fmt: skip


class _Sentences(Mapping[str, str]):
    """Every sentence by key, the tables read one after the other until one has the key that is asked for.

    A key that stands twice is a fault of ours. Any thread may ask.
    """

    def __init__(self) -> None:
        self._found: dict[str, str] = {}
        self._unread = list(reversed(_TABLES))
        self._reading = RLock()

    def __getitem__(self, key: str) -> str:
        """The sentence; KeyError where none is."""
        if key not in self._found:
            with self._reading:
                while key not in self._found and self._unread:
                    self._read_on()
        return self._found[key]

    def __iter__(self) -> Iterator[str]:
        """Every key."""
        self._read_all()
        return iter(self._found)

    def __len__(self) -> int:
        """How many there are."""
        self._read_all()
        return len(self._found)

    def _read_all(self) -> None:
        with self._reading:
            while self._unread:
                self._read_on()

    def _read_on(self) -> None:
        table: Mapping[str, str] = import_module(f".{self._unread[-1]}", "app.words").SENTENCES
        for key in table:
            if key in self._found:
                raise ProgramFault("words.key-twice", thing=key)
        self._found.update(table)
        self._unread.pop()


@cache
def sentences() -> Mapping[str, str]:
    """Every sentence by key; a key that stands twice is a fault of ours."""
    return _Sentences()


def number(value: float, decimals: int = 2) -> str:
    """A number as people read it: thousands marks, no needless zeros.

    >>> number(1541.76), number(1500.0), number(0.0)
    ('1,541.76', '1,500', '0')
    """
    text = f"{value:,.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


_FORMS: dict[str, Callable[[object], str]] = {
    "volts": lambda value: f"{number(_float(value), 4)} V",
    "number": lambda value: number(_float(value), 3),
    "milliamps": lambda value: f"{number(_float(value) / 1000)} mA",
    "hint": lambda value: f'Did you mean "{value}"? ' if value else "",
    "day": lambda value: str(value) or "an unknown day",
    "limit": lambda value: limit_said(str(value)),
}


class _Form(string.Formatter):
    def format_field(self, value: object, format_spec: str) -> str:
        if format_spec in _FORMS:
            return _FORMS[format_spec](value)
        if format_spec.endswith("s") and format_spec[:-1] in EVERYTHING and not isinstance(value, str):
            words = EVERYTHING[format_spec[:-1]]
            return listed(words.get(str(one), str(one)) for one in _items(value))
        if format_spec in EVERYTHING:
            return EVERYTHING[format_spec].get(str(value), str(value))
        return str(super().format_field(value, format_spec))


_FORM = _Form()


def _float(value: object) -> float:
    return float(value) if isinstance(value, (int, float)) else float("nan")


def _items(value: object) -> Iterable[object]:
    return value if isinstance(value, (tuple, list)) else (value,)


def listed(parts: Iterable[str]) -> str:
    """Words in a row: "a", "a and b", "a, b and c"."""
    words = list(parts)
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def say(key: str, values: Mapping[str, object]) -> str:
    """The sentence of `key`. A missing sentence or value is a fault of ours and is never papered over."""
    sentence = sentences().get(key)
    if sentence is None:
        raise ProgramFault("words.no-sentence", thing=key)
    return _filled(sentence, key, values)


def _filled(sentence: str, key: str, values: Mapping[str, object]) -> str:
    try:
        return _FORM.vformat(sentence, (), values)
    except KeyError as missing:
        raise ProgramFault("words.value-missing", thing=f"{key}: {missing}") from missing


def say_finding(finding: Finding) -> str:
    """A finding as a sentence: subject first, then the reason with its figures.

    A chain of one is its own weakest member, and says so only once.
    """
    values = {
        "subject": finding.subject, "measured": finding.measured, "required": finding.required,
        "unit": finding.unit or "", **finding.values,
    }  # fmt: skip
    alone = f"{finding.key}.alone"
    if finding.values.get("member") == finding.subject and alone in sentences():
        return say(alone, values)
    return say(finding.key, values)


def say_fault(fault: CuffdateError, *, in_window: bool = False) -> tuple[str, str]:
    """What is wrong, and the next step; in the window a step that is a command is said as what to press there."""
    values = {"file": fault.file, "place": fault.place, "thing": fault.thing, **fault.values}
    finding = values.pop("finding", None)
    if isinstance(finding, Finding):
        values["says"] = say_finding(finding)
    if in_window and f"{fault.key}.window" in sentences():
        return say(fault.key, values), say(f"{fault.key}.window", values)
    return say_in_two(fault.key, values)


def say_here(fault: CuffdateError) -> str:
    """What is wrong and the next step, in one line for the window."""
    return " ".join(part for part in say_fault(fault, in_window=True) if part)


def say_in_two(key: str, values: Mapping[str, object]) -> tuple[str, str]:
    """An error's sentence and its next step, which stands under "<key>.next" or as the sentences after the first."""
    if f"{key}.next" in sentences():
        return say(key, values), say(f"{key}.next", values)
    # Parted before it is filled: a full stop in a value must not cut the sentence.
    first, _, rest = sentences().get(key, "").partition(". ")
    if not rest:
        return say(key, values), ""
    return _filled(f"{first}.", key, values), _filled(rest, key, values)
