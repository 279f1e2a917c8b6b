from __future__ import annotations

import struct
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import app.outputs.paper.fonts
from app.outputs.pictures.advances import RUNS, UNITS_PER_EM
from app.outputs.pictures.letters import ASCENT, DESCENT, LINE, bound, clean, shorten, text_width, wrap
from tests.outputs.pictures.kit import labels

FONTS = Path(app.outputs.paper.fonts.__file__).parent


def font_tables(data: bytes) -> dict[str, int]:
    count = struct.unpack_from(">H", data, 4)[0]
    found = (struct.unpack_from(">4sIII", data, 12 + 16 * place) for place in range(count))
    return {tag.decode(): offset for tag, _, offset, _ in found}


def font_advances(data: bytes) -> dict[int, int]:
    """Code point -> advance, read from cmap format 12 and hmtx as the OpenType specification lays them out."""
    tables = font_tables(data)
    start = tables["cmap"]
    records = [
        struct.unpack_from(">HHI", data, start + 4 + 8 * place)
        for place in range(struct.unpack_from(">H", data, start + 2)[0])
    ]
    place = next(start + offset for _, _, offset in records if struct.unpack_from(">H", data, start + offset)[0] == 12)
    measured = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    made = {}
    for group in range(struct.unpack_from(">I", data, place + 12)[0]):
        first, last, glyph = struct.unpack_from(">III", data, place + 16 + 12 * group)
        for code in range(first, last + 1):
            row = min(glyph + code - first, measured - 1)
            made[code] = struct.unpack_from(">H", data, tables["hmtx"] + 4 * row)[0]
    return made


@pytest.mark.parametrize(("name", "column"), [("DejaVuSans.ttf", 1), ("DejaVuSans-Bold.ttf", 2)])
def test_table_is_the_shipped_fonts(name: str, column: int) -> None:
    data = (FONTS / name).read_bytes()
    real = font_advances(data)
    compared = 0
    for run in RUNS:
        widths = run[column]
        assert isinstance(widths, tuple)
        for step, units in enumerate(widths):
            assert real[run[0] + step] == units
            compared += 1
    assert compared > 700
    tables = font_tables(data)
    assert struct.unpack_from(">H", data, tables["head"] + 18)[0] == UNITS_PER_EM
    ascent, descent = struct.unpack_from(">hh", data, tables["hhea"] + 4)
    assert (ascent / UNITS_PER_EM, -descent / UNITS_PER_EM) == (ASCENT, DESCENT)


def test_licence_stands_beside_the_fonts() -> None:
    words = (FONTS / "LICENSE.txt").read_text(encoding="utf-8")
    assert "Permission is hereby granted, free of charge" in words
    assert "Arev" in words


def test_lines_do_not_touch() -> None:
    assert ASCENT + DESCENT < LINE


@given(labels, st.floats(8, 24), st.floats(30, 400), st.booleans())
def test_wrapped_lines_fit_and_lose_nothing(text: str, size: float, width: float, bold: bool) -> None:
    lines = wrap(text, size, width, bold=bold, lines=1000)
    for line in lines:
        assert text_width(line, size, bold=bold) <= width or len(line) == 1
    assert "".join(lines).replace(" ", "") == clean(text).replace(" ", "")


@given(labels, st.floats(20, 100))
def test_cut_lines_end_in_an_ellipsis(text: str, width: float) -> None:
    whole, cut = wrap(text, 12, width, lines=1000), wrap(text, 12, width, lines=2)
    assert len(cut) <= 2
    if len(whole) > 2:
        assert cut[-1].endswith("\u2026")
    else:
        assert cut == whole


@given(labels, st.floats(30, 200))
def test_shortened_fits(text: str, width: float) -> None:
    assert text_width(shorten(text, 12, width), 12) <= width


def test_a_figure_keeps_its_unit() -> None:
    assert wrap("offers 1,500\u00a0V", 12, 60) == ("offers", "1,500\u00a0V")


@given(labels)
def test_bound_changes_blanks_only(text: str) -> None:
    assert bound(text).replace("\u00a0", " ") == text.replace("\u00a0", " ")


def test_short_figures_stay_with_their_word() -> None:
    assert wrap(bound("gloves class 0"), 12, text_width("gloves class", 12) + 1) == ("gloves", "class\u00a00")
    assert bound("198 cells, 400 V") == "198 cells, 400 V"


def test_hostile_letters_are_replaced() -> None:
    assert clean("600\u202eV 051\x00\x1b\ud800\ufffe\n\t") == "600\ufffdV 051\ufffd\ufffd\ufffd\ufffd  "
