"""Errors that reach people, as one tree.

    CuffdateError
    |- BadInput        somebody typed or kept something the program cannot take (exit status 2)
    |- StoreTrouble    the register's file, its disk or a lock is in the way; nothing half written (exit status 1)
    |- ProgramFault    a mistake of ours: a rule, a set or a text does not fit the rest (exit status 1)

A refusal is an answer and never an exception. An error carries a message key and values; the sentence is made in
`words`, once, for window, command line and paper alike.
"""

from __future__ import annotations


class CuffdateError(Exception):
    """Anything the program says instead of an answer.

    `key` names the sentence, `values` fill it; `file`, `place` and `thing` say where to look.
    """

    def __init__(self, key: str, *, file: str = "", place: str = "", thing: str = "", **values: object) -> None:
        super().__init__(key)
        self.key = key
        self.file = file
        self.place = place
        self.thing = thing
        self.values = values

    def __str__(self) -> str:
        where = " ".join(part for part in (self.file, self.place, self.thing) if part)
        return f"{self.key} [{where}] {self.values}"


class BadInput(CuffdateError):
    """What was offered cannot be taken; nothing has been changed."""


class StoreTrouble(CuffdateError):
    """The register could not be read or written for a reason outside the program; it stands as it stood."""


class ProgramFault(CuffdateError):
    """The program contradicts itself: raised at start-up or never."""
