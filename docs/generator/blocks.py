"""What a page is made of. How it is written down stands in the template; text can never be markup."""

from __future__ import annotations

import re
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from msgspec import Struct

_MARKUP = re.compile(r"([\\`*_\[\]<>|~&#])")
# What only counts as markup where a line begins.
_AT_START = re.compile(r"^(\d+)([.)])(?=\s|$)|^([-+=])")


class Link(Struct, frozen=True):
    """Words that lead to another page of the same folder."""

    words: str
    to: str


class Code(Struct, frozen=True):
    """A key, a path or a command, shown as typed."""

    text: str


Inline = str | Link | Code
Line = Inline | tuple[Inline, ...]


class Heading(Struct, frozen=True):
    """A heading below the title."""

    text: str
    level: int = 2


class Paragraph(Struct, frozen=True):
    """One paragraph; `is_strong` where it must not be read over."""

    line: Line
    is_strong: bool = False


class Listing(Struct, frozen=True):
    """A list of points."""

    items: tuple[Line, ...]


class Grid(Struct, frozen=True):
    """Rows under headings; `right`: the columns of figures, which stand to the right."""

    columns: tuple[str, ...]
    rows: tuple[tuple[Line, ...], ...]
    right: frozenset[int] = frozenset()


class Drawing(Struct, frozen=True):
    """A picture of the same folder, with the words that stand for it."""

    words: str
    file: str


Block = Heading | Paragraph | Listing | Grid | Drawing


class Page(Struct, frozen=True):
    """One page; `marker` says in a comment, before everything else, whose it is."""

    title: str
    blocks: tuple[Block, ...]
    marker: str


def line(parts: Line) -> str:
    """Words, links and keys in a row, as Markdown."""
    return "".join(_inline(part) for part in (parts if isinstance(parts, tuple) else (parts,)))


def _inline(part: Inline) -> str:
    if isinstance(part, Link):
        return f"[{escaped(part.words)}]({part.to})"
    if isinstance(part, Code):
        # A backtick would end it and a bar would end the cell; no key or command of ours has either.
        return f"`{part.text.replace('`', chr(39)).replace('|', '/')}`"
    return escaped(part)


def escaped(words: str) -> str:
    """Words in which nothing counts as markup."""
    return _MARKUP.sub(r"\\\1", re.sub(r"\s+", " ", words))


def begun(words: str) -> str:
    """A line in which nothing counts as the beginning of a list."""
    return _AT_START.sub(lambda found: f"{found[1]}\\{found[2]}" if found[1] else f"\\{found[3]}", words)


def comment(words: str) -> str:
    """Words as a comment of Markdown, HTML and SVG alike; what would end it early is taken apart."""
    return f"<!-- {words.replace('--', '- -')} -->"


def render(page: Page) -> str:
    """The page by its template, ending in one line break."""
    return _template().render(page=page, kinds=[(type(block).__name__, block) for block in page.blocks])


def _template() -> Template:
    surroundings = Environment(
        loader=FileSystemLoader(Path(__file__).parent), undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
        keep_trailing_newline=True, autoescape=False,  # noqa: S701  # Markdown: `escaped` takes the markup out
    )  # fmt: skip
    surroundings.filters |= {"line": line, "escaped": escaped, "begun": begun, "comment": comment}
    return surroundings.get_template("page.md.j2")
