r"""A page as Markdown: title, paragraphs, lists, tables with figures to the right, pictures. Text can never be markup.

>>> print(render(Page("Volts", (Grid(("class", "V"), (("0|1", "1,000"),), frozenset({1})),), "Ours.")), end="")
<!-- Ours. -->
<BLANKLINE>
# Volts
<BLANKLINE>
| class | V |
| --- | --: |
| 0\|1 | 1,000 |
"""

from __future__ import annotations

import re
from collections.abc import Iterable

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


def render(page: Page) -> str:
    """The page, ending in one line break; deterministic."""
    parts = [comment(page.marker), f"# {_escaped(page.title)}", *(_block(one) for one in page.blocks)]
    return "\n\n".join(part for part in parts if part) + "\n"


def comment(words: str) -> str:
    """Words as a comment of Markdown, HTML and SVG alike; what would end it early is taken apart."""
    return f"<!-- {words.replace('--', '- -')} -->"


def _block(block: Block) -> str:
    match block:
        case Heading():
            return f"{'#' * block.level} {_escaped(block.text)}"
        case Paragraph():
            words = _at_start(_line(block.line))
            return f"**{words}**" if block.is_strong else words
        case Listing():
            return "\n".join(f"- {_at_start(_line(item))}" for item in block.items)
        case Grid():
            return "\n".join(_grid(block))
        case Drawing():
            return f"![{_escaped(block.words)}]({block.file})"


def _grid(grid: Grid) -> Iterable[str]:
    marks = ("--:" if place in grid.right else "---" for place in range(len(grid.columns)))
    yield _row(_escaped(column) for column in grid.columns)
    yield _row(marks)
    for cells in grid.rows:
        yield _row(_line(cell) for cell in cells)


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _line(line: Line) -> str:
    parts = line if isinstance(line, tuple) else (line,)
    return "".join(_inline(part) for part in parts)


def _inline(part: Inline) -> str:
    if isinstance(part, Link):
        return f"[{_escaped(part.words)}]({part.to})"
    if isinstance(part, Code):
        # A backtick would end it and a bar would end the cell; no key or command of ours has either.
        return f"`{part.text.replace('`', chr(39)).replace('|', '/')}`"
    return _escaped(part)


def _escaped(words: str) -> str:
    return _MARKUP.sub(r"\\\1", re.sub(r"\s+", " ", words))


def _at_start(words: str) -> str:
    return _AT_START.sub(lambda found: f"{found[1]}\\{found[2]}" if found[1] else f"\\{found[3]}", words)
