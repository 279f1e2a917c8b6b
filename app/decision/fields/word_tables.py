"""Lists of words written as text, so that a person can read and lengthen them: a | b | c."""

from __future__ import annotations


def word_set(text: str) -> frozenset[str]:
    """The words of `text`, divided by bars."""
    return frozenset(_words(text))


def word_map(text: str) -> dict[str, str]:
    """Word -> value from lines "value: word | word"; a line that begins with a space continues the one above."""
    return {word: value for value, words in word_table(text).items() for word in words}


def word_table(text: str) -> dict[str, tuple[str, ...]]:
    """Value -> its words, from lines as in `word_map`, in the order written."""
    table: dict[str, str] = {}
    value = ""
    for line in text.strip("\n").splitlines():
        if line.startswith(" "):
            table[value] += " " + line.strip()
        else:
            value, _, words = line.partition(":")
            table[value] = words
    return {value: _words(words) for value, words in table.items()}


def _words(text: str) -> tuple[str, ...]:
    return tuple(" ".join(word.split()) for word in text.split("|") if word.strip())
