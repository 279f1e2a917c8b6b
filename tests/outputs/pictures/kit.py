"""Values and checks that the picture tests share."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import combinations

from hypothesis import strategies as st

from app.outputs.pictures.due_ribbon import DueRibbon
from app.outputs.pictures.headroom import Bar, Headroom, Member
from app.outputs.pictures.scene import Area, Scene, Shape, Words

CAUTION = "Check it yourself before use; follow the maker's procedure and local law; the authorised person decides."
TODAY = date(2026, 3, 2)


def chain(offers_mv: int | None, *members: int | None) -> Bar:
    known = [mv for mv in members if mv is not None]
    made = tuple(Member(f"MC-{place}", f"part {place}", mv) for place, mv in enumerate(members))
    shortest = f"MC-{members.index(min(known))}" if known and len(known) == len(members) else None
    return Bar("MC-0301", "measuring chain, CAT III", offers_mv, True, made, shortest)


def kit(*bars: Bar, working_mv: int | None = 831_600, required_mv: int | None = 914_760) -> Headroom:
    return Headroom(
        "Bus 7", "traction battery, 198s NMC", "isolated DC", working_mv, required_mv, "10 %", bars, CAUTION
    )


def ribbon() -> DueRibbon:
    return DueRibbon(
        code="GL-0117",
        label="gloves class 0, size 10",
        test_on=date(2025, 9, 15),
        first_issue_on=date(2025, 11, 3),
        today=TODAY,
        due_on=date(2026, 5, 3),
        warning_from=date(2026, 4, 3),
        limits=(("six months after first issue", date(2026, 5, 3)), ("twelve months after test", date(2026, 9, 15))),
        deciding="six months after first issue",
        status="ready",
        sentence="The first issue starts six months.",
    )


def in_state(state: str) -> DueRibbon:
    base = ribbon()
    return {
        "in-date": base,
        "warning": replace(base, warning_from=TODAY),
        "overdue": replace(
            base,
            due_on=TODAY,
            warning_from=date(2026, 2, 1),
            limits=(("six months after first issue", TODAY), ("twelve months after test", date(2026, 9, 15))),
        ),
        "no-test": replace(base, test_on=None),
        "undated": replace(base, test_on=None, due_on=None, warning_from=None, limits=(), deciding="", is_undated=True),
        "no-due": replace(base, due_on=None, warning_from=None, limits=(), deciding=""),
    }[state]


# Letters of several scripts, blanks, marks of XML, control and direction characters: what a label may really hold.
letters = st.characters(codec="utf-8") | st.sampled_from("<>&\"'\x00\x1b\u202e\u00a0 WWWiil\u0301")
labels = st.text(letters, max_size=60) | st.sampled_from(
    ["gloves", "insulating gloves class 0 with protectors", "W" * 60, "]]></text><script>", ""]
)
figures_mv = st.integers(0, 40_000_000) | st.sampled_from([0, 1, 600_000, 914_759, 914_760, 1_500_000, 25_500_000])
offers = st.none() | figures_mv


@st.composite
def bars(draw: st.DrawFn) -> Bar:
    members: tuple[Member, ...] = ()
    if draw(st.booleans()):
        members = tuple(
            Member(f"{place}-{draw(labels)}", draw(labels), draw(offers)) for place in range(draw(st.integers(1, 7)))
        )
    shortest = draw(st.none() | st.sampled_from([member.code for member in members])) if members else None
    return Bar(draw(labels), draw(labels), draw(offers), bool(members), members, shortest)


@st.composite
def headrooms(draw: st.DrawFn) -> Headroom:
    required = draw(st.none() | st.integers(1, 3_000_000))
    working = draw(st.none() | st.integers(0, required or 3_000_000))
    texts = [draw(labels) for _ in range(5)]
    made = tuple(draw(st.lists(bars(), max_size=13)))
    return Headroom(texts[0], texts[1], texts[2], working, required, texts[3], made, texts[4])


days = st.dates(date(2000, 1, 1), date(2060, 12, 31)) | st.integers(-500, 500).map(lambda n: TODAY + timedelta(days=n))


@st.composite
def ribbons(draw: st.DrawFn) -> DueRibbon:
    limits = tuple(draw(st.lists(st.tuples(labels, days), max_size=4)))
    return DueRibbon(
        code=draw(labels),
        label=draw(labels),
        test_on=draw(st.none() | days),
        first_issue_on=draw(days | st.sampled_from(["never", "unknown"])),
        today=draw(days),
        due_on=draw(st.none() | days),
        warning_from=draw(st.none() | days),
        limits=limits,
        deciding=draw(st.sampled_from([label for label, _ in limits] or [""])),
        status=draw(labels),
        sentence=draw(labels),
    )


def assert_tidy(scene: Scene) -> None:
    """Every line of words inside the scene, and none on another."""
    boxes = [(words.text, words.box()) for words in scene.words() if words.text]
    for text, box in boxes:
        assert box.left >= 0, text
        assert box.top >= 0, text
        assert box.right <= scene.width, text
        assert box.bottom <= scene.height, text
    for (one, here), (other, there) in combinations(boxes, 2):
        assert not _trimmed(here).overlaps(there), (one, other, here, there)


def assert_icons_clear(scene: Scene) -> None:
    """No icon covers words, and none leaves the scene."""
    for shape in scene.items:
        if isinstance(shape, Shape):
            box = shape.box()
            assert box.left >= 0
            assert box.right <= scene.width
            for words in scene.words():
                assert not _trimmed(box).overlaps(words.box()), (shape, words)


def _trimmed(area: Area) -> Area:
    # A hundredth of a px lets edges that are meant to touch do so despite float addition.
    return Area(area.left + 0.01, area.top + 0.01, area.right - 0.01, area.bottom - 0.01)


def said(scene: Scene) -> str:
    """All words of the scene in drawing order, with plain blanks."""
    return " ".join(item.text for item in scene.items if isinstance(item, Words)).replace("\u00a0", " ")
