"""What a command prints: a document, JSON, or an error with its place and next step."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable

from app.decision.domain.errors import BadInput, CuffdateError, StoreTrouble
from app.outputs.document import Document
from app.outputs.paper.plain_text import clean, render
from app.words.saying import say, say_fault


def show(document: Document) -> None:
    """A document as text."""
    sys.stdout.write(render(document))


def show_json(values: object) -> None:
    """Plain values as one JSON text."""
    sys.stdout.write(json.dumps(values, ensure_ascii=False, indent=2) + "\n")


def show_lines(lines: Iterable[str]) -> None:
    """Lines of text, harmless to a terminal."""
    sys.stdout.write("".join(f"{clean(line)}\n" for line in lines))


#: what went wrong, for whoever reads it by program
_SORTS = {BadInput: "bad-input", StoreTrouble: "store-trouble"}


def complain(fault: CuffdateError, *, as_json: bool) -> None:
    """An error: what is wrong, where, and what to do now."""
    what, next_step = say_fault(fault)
    if as_json:
        show_json(
            {
                "error": _SORTS.get(type(fault), "program-fault"),
                "key": fault.key,
                "says": what,
                "next": next_step,
                "file": fault.file,
                "place": fault.place,
                "thing": fault.thing,
            }
        )
        return
    where = ", ".join(part for part in (fault.file, fault.place) if part)
    lines = [what, *([say("error.where", {"where": where})] if where else []), say("error.next", {"next": next_step})]
    sys.stderr.write("".join(f"{clean(line)}\n" for line in lines))
