"""A scene as SVG 1.1 text that stands alone: no script, no style sheet, no outside file.

Words keep their font by name with common substitutes, all narrower than the shipped one, so that nothing runs out where
the font is missing. User text is escaped and cannot end an element or an attribute.
"""

from __future__ import annotations

from html import escape

from app.outputs.pictures.scene import PALETTES, Box, Hatch, Item, Line, Role, Scene, Shape, Words
from app.outputs.pictures.shapes import Outline, outline

FAMILY = "DejaVu Sans, Arial, Helvetica, sans-serif"
_DASHES = ' stroke-dasharray="6 4"'


def render(scene: Scene) -> str:
    """The SVG document; deterministic: the same scene gives the same text. Sizes in px."""
    colours = {role: PALETTES[scene.palette][role] for role in Role}
    width, height = _n(scene.width), _n(scene.height)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}"'
        f' role="img" font-family="{FAMILY}" font-kerning="none">'
    )
    lines = [
        head,
        f"<title>{escape(scene.title)}</title>",
        f"<desc>{escape(scene.description)}</desc>",
        f'<rect width="{width}" height="{height}" fill="{colours[Role.PAPER]}"/>',
        *(_item(item, colours) for item in scene.items),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _item(item: Item, colours: dict[Role, str]) -> str:
    match item:
        case Box():
            return _box(item, colours)
        case Line():
            return _line(item, colours)
        case Hatch():
            return _hatch(item, colours)
        case Words():
            return _words(item, colours)
        case Shape():
            return "\n".join(_outline(stroke, colours) for stroke in outline(item))


def _box(box: Box, colours: dict[Role, str]) -> str:
    fill = colours[box.fill] if box.fill else "none"
    stroke = f' stroke="{colours[box.stroke]}" stroke-width="{_n(box.stroke_width)}"' if box.stroke else ""
    dashes = _DASHES if box.dashed else ""
    return f'<rect {_frame(box)} fill="{fill}"{stroke}{dashes}/>'


def _frame(box: Box | Hatch) -> str:
    return f'x="{_n(box.x)}" y="{_n(box.y)}" width="{_n(box.width)}" height="{_n(box.height)}"'


def _line(line: Line, colours: dict[Role, str]) -> str:
    ends = f'x1="{_n(line.x1)}" y1="{_n(line.y1)}" x2="{_n(line.x2)}" y2="{_n(line.y2)}"'
    dashes = _DASHES if line.dashed else ""
    return f'<line {ends} stroke="{colours[line.role]}" stroke-width="{_n(line.width)}"{dashes}/>'


def _hatch(hatch: Hatch, colours: dict[Role, str]) -> str:
    colour = colours[hatch.role]
    path = "".join(f"M{_n(x1)} {_n(y1)}L{_n(x2)} {_n(y2)}" for x1, y1, x2, y2 in hatch.strokes())
    ground = f'<rect {_frame(hatch)} fill="{colours[Role.PAPER]}"/>'
    frame = f'<rect {_frame(hatch)} fill="none" stroke="{colour}" stroke-width="2"/>'
    return f'{ground}<path d="{path}" stroke="{colour}" stroke-width="2.5" fill="none"/>{frame}'


def _words(words: Words, colours: dict[Role, str]) -> str:
    weight = ' font-weight="bold"' if words.bold else ""
    anchor = f' text-anchor="{words.anchor}"' if words.anchor != "start" else ""
    place = f'x="{_n(words.x)}" y="{_n(words.y)}" font-size="{_n(words.size)}"'
    return f'<text {place}{weight}{anchor} fill="{colours[words.role]}">{escape(words.text)}</text>'


def _outline(stroke: Outline, colours: dict[Role, str]) -> str:
    path = "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in stroke.points) + ("Z" if stroke.closed else "")
    colour = colours[stroke.role]
    if not stroke.width:
        return f'<path d="{path}" fill="{colour}"/>'
    ends = ' stroke-linecap="round" stroke-linejoin="round"'
    return f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{_n(stroke.width)}"{ends}/>'
