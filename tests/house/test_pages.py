"""The pages of docs/rules are what the command writes now, say every figure and sentence, and count days rightly."""

from __future__ import annotations

import re
import string
from calendar import monthrange
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from msgspec.structs import replace

from app.decision.case.case import read_cases
from app.decision.domain.finding import Outcome
from app.decision.domain.limits import Limit, RuleSet, TestInterval
from app.decision.judging.catalogues import catalogues
from app.decision.judging.judge import judge
from app.decision.judging.worked_cases import facts_of
from app.words.catalogue import CATALOGUE
from app.words.saying import sentences
from app.words.vocabulary import KINDS
from docs.generator.blocks import Grid, Page, render
from docs.generator.figure_rows import every_figure, house_figures
from docs.generator.rule_pages import CASES, PROSE, sources, written
from docs.generator.rule_says import outcomes
from docs.generator.set_gaps import cannot_serve
from docs.generator.sources_page import SOURCES as SOURCES_PAGE
from docs.generator.sources_page import behind, clauses_of

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "docs" / "rules"
COMMAND = "python -m docs.generator"
KNOWN = catalogues()
SETS, RULES = KNOWN.rule_sets, KNOWN.rules
SOURCES = sources(RULES)
PAGES = written(KNOWN)
PARTS = {"mV": 1000, "uA": 1000, "um": 1000, "mcal/cm2": 1000, "0.01": 100, "0.01 in": 100}
COLUMNS = {
    "use/ac": "Use AC, V", "use/dc": "Use DC, V", "retest/ac": "Retest AC, V", "retest/dc": "Retest DC, V",
    "withstand/ac": "Withstand AC, V", "current": "Current, mA",
}  # fmt: skip


def plain(text: str) -> str:
    """A page without its escapes, as a reader sees it."""
    without_sources = re.sub(r"\[((?:\\.|[^\]\\])*)\]\(\.\./sources\.md#[^)]*\)", r"\1", text)
    return re.sub(r"\\([\\`*_\[\]<>|~&#.)+=-])", r"\1", without_sources)


def section(page: str, heading: str) -> str:
    """What stands under one heading, up to the next of its level."""
    return page.partition(f"## {heading}\n")[2].partition("\n## ")[0]


def grids(text: str) -> Iterator[list[dict[str, str]]]:
    """Every table of a text, each row by its heading."""
    for block in text.split("\n\n"):
        lines = [line for line in block.splitlines() if line.startswith("| ")]
        if len(lines) > 1:
            cells = [[plain(cell) for cell in re.split(r" (?<!\\)\| ", line[2:-2])] for line in lines]
            yield [dict(zip(cells[0], row, strict=True)) for row in cells[2:]]


def grid(text: str) -> list[dict[str, str]]:
    return next(grids(text), [])


def number(limit: Limit) -> str:
    value = Decimal(limit.value) / PARTS.get(limit.unit, 1)
    return f"{value.normalize():,f}"


def months_later(day: date, months: int) -> date:
    """Written anew: the clock's own arithmetic is what is on trial."""
    count = day.year * 12 + day.month - 1 + months
    year, month = count // 12, count % 12 + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))


# the committed pages


def test_the_pages_are_what_is_written_now() -> None:
    names = {file.name for file in FOLDER.iterdir()} | set(PAGES)
    there = {name: (FOLDER / name).read_text(encoding="utf-8") for name in names if (FOLDER / name).exists()}
    differ = sorted(name for name in names if there.get(name) != PAGES.get(name))
    assert differ == [], f"declarations and pages differ; write them anew: {COMMAND}"


def test_a_changed_figure_changes_its_page_the_list_and_nothing_of_another_set() -> None:
    own = SETS["gb-17622"]
    limit = own.limits["current/1/360"]
    changed = replace(own, limits={**own.limits, "current/1/360": replace(limit, value=limit.value + 1000)})
    spoiled = written(replace(KNOWN, rule_sets={**SETS, own.key: changed}))
    assert {name for name in PAGES if spoiled[name] != PAGES[name]} == {"set-gb-17622.md", "confirm-in-print.md"}


def test_a_changed_clock_changes_its_edge_days_and_its_picture() -> None:
    own = SETS["jp-351"]
    (clock,) = own.intervals["rubber-gloves"]
    changed = replace(own, intervals={"rubber-gloves": (replace(clock, never=7, reused=7, between=7),)})
    spoiled = written(replace(KNOWN, rule_sets={**SETS, own.key: changed}))
    assert {"set-jp-351.md", "set-jp-351.svg"} <= {name for name in PAGES if spoiled[name] != PAGES[name]}


# figures


@pytest.mark.parametrize("key", SETS)
def test_every_figure_stands_on_its_sets_page_with_value_clause_and_letter(key: str) -> None:
    rows = {row["Key"].strip("`"): row for row in grid(section(PAGES[f"set-{key}.md"], "Every figure once more"))}
    limits = {one.key: one for one in SETS[key].limits.values()}
    clocks = {one.key: one for intervals in SETS[key].intervals.values() for one in intervals}
    assert set(rows) == {*limits, *clocks}
    for name, limit in limits.items():
        assert (rows[name]["Clause"], rows[name]["Letter"]) == (limit.clause, limit.confidence)
        said = rows[name]["Value"]
        assert said == "-" if limit.unit == "statement" else said.split()[0] == number(limit)
    for name, clock in clocks.items():
        assert (rows[name]["Clause"], rows[name]["Letter"]) == (clock.clause, clock.confidence)
        assert {str(clock.never), str(clock.reused)} <= set(re.findall(r"\d+", rows[name]["Value"]))


@pytest.mark.parametrize("key", SETS)
def test_the_tables_by_class_hold_the_figures_and_the_letters_that_differ(key: str) -> None:
    rule_set, page = SETS[key], PAGES[f"set-{key}.md"]
    headings = re.findall(r"^## (Voltages by class.*)$", page, re.MULTILINE)
    shown: dict[str, str] = {}
    for heading in headings:
        of = heading.partition(": ")[2]
        prefix = next((f"{kind}/" for kind, words in KINDS.items() if words == of), "")
        for row in grid(section(page, heading)):
            for name, column in COLUMNS.items():
                shown[f"{prefix}{name}/{row['Class']}"] = row.get(column, "-")
    lengths = "Most leakage current in a test with AC, by length of glove"
    for row in grid(section(page, lengths)):
        for column in set(row) - {"Class"}:
            shown[f"current/{row['Class']}/{column.split()[0]}"] = row[column]
    figures = {name: one for name, one in rule_set.limits.items() if name in shown}
    assert {name for name, said in shown.items() if said != "-"} == set(figures)
    by_class = ("use/", "retest/", "withstand/", "current/")
    assert {name for name in rule_set.limits if any(part in f"/{name}" for part in map("/{}".format, by_class))} == set(
        figures
    )
    for name, limit in figures.items():
        assert shown[name].split()[0] == number(limit), name
        assert shown[name].split()[1:] in ([], [f"({limit.confidence})"]), name
        assert f"{limit.clause} (" in plain(page), name


def test_a_letter_is_left_out_only_where_its_whole_column_says_it() -> None:
    rows = grid(section(PAGES["set-us-osha-137.md"], "Voltages by class"))
    assert [row["Retest AC, V"] for row in rows[:2]] == ["2,500 (M)", "5,000"]
    assert "Retest AC, V: 1910.137(c)(2)(viii), Table I-4 (P; M where it stands beside a figure)." in plain(
        PAGES["set-us-osha-137.md"]
    )


@pytest.mark.parametrize("key", SETS)
def test_what_nobody_has_seen_is_listed_with_the_set_and_in_the_one_list(key: str) -> None:
    wanted = {one.key for one in every_figure(SETS[key]) if one.letter == "M"}
    own = {row["Key"].strip("`") for row in grid(section(PAGES[f"set-{key}.md"], "What nobody has seen in print"))}
    listed = set(re.findall(r"`([^`]+)`", section(PAGES["confirm-in-print.md"], SETS[key].title)))
    assert own == listed == wanted


def test_the_list_to_confirm_holds_every_figure_from_memory_once() -> None:
    wanted = [one.key for rule_set in SETS.values() for one in every_figure(rule_set) if one.letter == "M"]
    wanted += [one.key for one in house_figures(KNOWN.house) if one.letter == "M"]
    assert sorted(re.findall(r"`([^`]+)`", PAGES["confirm-in-print.md"])) == sorted(wanted)
    assert f"{len(wanted)} figures are not yet checked against the printed standard" in PAGES["confirm-in-print.md"]


def test_house_policy_shows_every_figure_and_every_task() -> None:
    rows = {row["Key"].strip("`"): row for row in grid(section(PAGES["house-policy.md"], "Its figures"))}
    assert set(rows) == {one.key for one in KNOWN.house.limits.values()}
    for one in KNOWN.house.limits.values():
        assert (rows[one.key]["Value"].split()[0], rows[one.key]["Letter"]) == (number(one), one.confidence)
    assert len(grid(section(PAGES["house-policy.md"], "Tasks"))) == len(KNOWN.tasks)


def test_the_index_counts_the_figures_by_letter() -> None:
    rows = {row["Rule set"]: row for row in grid(section(PAGES["README.md"], "Rule sets"))}
    for key, rule_set in SETS.items():
        figures = every_figure(rule_set)
        row = rows[f"[{rule_set.title}](set-{key}.md)"]
        assert int(row["Figures"]) == len(figures) == sum(int(row[letter]) for letter in "PSTM")
        assert int(row["Not seen in print"]) == sum(one.letter == "M" for one in figures)


# edge days


def clock_of(rule_set: RuleSet, row: Mapping[str, str]) -> TestInterval:
    """The declared clock a row of the clock table speaks of, found by its kinds and whom it is for."""
    first = next(kind for kind, words in KINDS.items() if row["Kind"].startswith(words))
    fitting = [one for one in rule_set.intervals[first] if one.material is None or one.material in row["Holds for"]]
    (found,) = fitting
    waits = "as shipped, until" in row["Holds for"]
    assert waits <= bool(found.shelf)
    return replace(found, never=found.reused, between=found.reused) if waits else found


@pytest.mark.parametrize("key", SETS)
def test_edge_days_agree_with_an_arithmetic_of_their_own(key: str) -> None:
    page = PAGES[f"set-{key}.md"]
    clocks = {row["Clock"]: clock_of(SETS[key], row) for row in grid(section(page, "When the retest falls due"))}
    rows = grid(section(page, "Edge days"))
    assert {row["No."][0] for row in rows} == set(clocks)
    for row in rows:
        clock, tested = clocks[row["No."][0]], date.fromisoformat(row["Tested"])
        issue = row["First issue"]
        if issue == "never":
            due = months_later(tested, clock.never)
        elif issue == "not known" or date.fromisoformat(issue) <= tested:
            due = months_later(tested, clock.reused)
        elif isinstance(clock.between, int):
            due = months_later(tested, clock.between)
        else:
            issued = date.fromisoformat(issue)
            due = min(months_later(issued, clock.reused), months_later(tested, clock.never))
        assert row["Due"] == str(due), row
        assert row["Last good day"] == str(due - timedelta(days=1)), row
        decided = re.search(r"(\d+) months", row["What decides"])
        assert decided is not None
        start = date.fromisoformat(issue) if "first issue" in row["What decides"] else tested
        assert months_later(start, int(decided[1])) == due, row


def test_edge_days_reach_a_clamped_month_end_and_a_leap_day() -> None:
    text = PAGES["set-us-osha-137.md"]
    rows = {row["No."]: row for row in grid(section(text, "Edge days"))}
    assert (rows["A1"]["Tested"], rows["A1"]["Due"]) == ("2024-02-29", "2025-02-28")
    assert (rows["A2"]["First issue"], rows["A2"]["Last good day"]) == ("2024-08-31", "2025-02-27")
    assert (rows["A3"]["Due"], rows["A3"]["What decides"]) == ("2025-03-31", "at most 12 months from the test")
    assert (rows["A4"]["Tested"], rows["A4"]["Due"]) == ("2024-08-31", "2025-02-28")


@pytest.mark.parametrize("key", [key for key, one in SETS.items() if any(one.intervals.values())])
def test_each_picture_stands_alone_is_small_and_shows_every_day_uncut(key: str) -> None:
    written = PAGES[f"set-{key}.svg"]
    assert len(written.encode()) < 60_000
    root = ET.fromstring(written)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert not re.search(r"<script|href|url\(", written)
    words = [one.text or "" for one in root.iter("{http://www.w3.org/2000/svg}text")]
    assert not any("\u2026" in one for one in words)
    for row in grid(section(PAGES[f"set-{key}.md"], "Edge days")):
        assert any(one.startswith(f"{row['No.']} ") for one in words)
        assert f"last good day {row['Last good day']} (due {row['Due']})" in words
    assert f"](set-{key}.svg)" in PAGES[f"set-{key}.md"]


# rules


@pytest.mark.parametrize("key", RULES)
def test_every_rule_has_a_page_with_every_sentence_it_can_say(key: str) -> None:
    page = plain(section(PAGES[f"rule-{key}.md"], "What it says"))
    own = {name for name in sentences() if name.startswith(f"{key}.") and not name.endswith(".alone")}
    for name in own:
        parts = [text for text, *_ in string.Formatter().parse(sentences()[name]) if text.strip(" .:,;()")]
        pattern = ".*".join(map(re.escape, (re.sub(r"\s+", " ", part) for part in parts)))
        assert re.search(pattern, page), name
    assert "### Met" in page
    assert f"](rule-{key}.md)" in PAGES["README.md"]


def test_what_rules_answered_in_the_worked_cases_stands_on_their_pages_under_that_outcome() -> None:
    """The pages read the source; here the rules themselves answer."""
    told = {key: outcomes(key, SOURCES[key]) for key in RULES}
    strange: set[tuple[str, str, Outcome]] = set()
    seen: set[tuple[str, str, Outcome]] = set()
    for file in sorted(CASES.glob("*.toml")):
        # A few of each file's long rows of like cases are enough, and all of those that differ.
        for case in read_cases(file.read_text(encoding="utf-8"), file.name)[:: 1 if "policy" in file.name else 5]:
            if case.level in ("finding", "decision") and case.pieces:
                for one in judge(facts_of(case)).findings:
                    if one.rule in told and (one.rule, one.key, one.outcome) not in seen:
                        seen.add((one.rule, one.key, one.outcome))
                        if one.outcome not in told[one.rule].get(one.key, frozenset()):
                            strange.add((one.rule, one.key, one.outcome))
    assert strange == set()
    assert len(seen) > 80


def test_a_sentence_stands_under_its_own_outcome() -> None:
    page = plain(PAGES["rule-proving-unit-fits.md"])
    told = page.partition("### Cannot tell (refuses too)\n")[2].partition("### ")[0]
    assert "threshold of [instrument] is not known" in told
    assert "indicates only above" not in told
    assert "indicates only above" in page.partition("### Not met\n")[2].partition("### ")[0]


def test_a_rule_says_who_asks_it_of_what_on_which_clause() -> None:
    rows = grid(section(PAGES["rule-protectors-worn.md"], "Who asks it"))
    by_set = [(row["Asked by"], row["Of"], row["Clause"], row["Letter"]) for row in rows]
    osha, en = "[US 1910.137 (adopted practice)](set-us-osha-137.md)", "[EN 60903:2003](set-en-60903-2003.md)"
    assert (osha, "rubber insulating gloves", "1910.137(c)(2)(vii)", "S") in by_set
    # Of composite gloves the text was not seen to speak: house policy holds them to the same.
    assert (osha, "composite gloves", "house policy", "H") in by_set
    assert [letter for who, _, _, letter in by_set if who == en] == ["H"]
    assert "inflation/I`" in PAGES["rule-air-test-done.md"]
    assert "clearance/astm-f496/4`" in PAGES["rule-cuff-clearance.md"]


# words


def test_every_figure_has_words() -> None:
    figures = [one for rule_set in SETS.values() for one in every_figure(rule_set)]
    bare = [one.key for one in (*figures, *house_figures(KNOWN.house)) if one.words == one.key]
    assert bare == [], "give the figure words under figure-of/ in app/words/en.json"


def test_nothing_is_shown_by_its_key_where_a_word_exists() -> None:
    keys = [*(key for key in KINDS if "-" in key), *(key for key in RULES if "-" in key), *SETS]
    for name, page in PAGES.items():
        if name.endswith(".md"):
            bare = re.sub(r"`[^`]*`|\]\([^)]*\)", "", plain(page).partition("## Worked cases that")[0])
            assert [key for key in keys if re.search(rf"(?<![\w-]){key}(?![\w-])", bare)] == [], name


def test_a_clock_that_waits_for_a_confirmation_stands_both_ways() -> None:
    waiting = [key for key, one in SETS.items() for clock in one.intervals.get("rubber-gloves", ()) if clock.shelf]
    for key in waiting:
        rows = grid(section(PAGES[f"set-{key}.md"], "When the retest falls due"))
        gloves = [row for row in rows if row["Kind"].startswith(KINDS["rubber-gloves"])]
        assert [row["Never issued"] for row in gloves] == ["6 months from the test", "12 months from the test"]
        assert SETS[key].limits["shelf-months"].clause in gloves[0]["Holds for"]


def test_us_pages_say_that_they_are_adopted_practice_and_every_page_who_decides() -> None:
    for key in SETS:
        assert (PROSE["pages.us"] in PAGES[f"set-{key}.md"]) == key.startswith("us-")
    for name, page in PAGES.items():
        if name.endswith(".md") and name != SOURCES_PAGE:
            assert PROSE["pages.read-own-copy"] in page
            assert PROSE["pages.defer"] in page


def test_every_link_leads_to_a_page() -> None:
    links = {to for name, page in PAGES.items() if name.endswith(".md") for to in re.findall(r"\]\(([^)]+)\)", page)}
    pages, places = ({part[at] for link in links for part in (link.partition("#"),) if part[at]} for at in (0, 2))
    assert pages <= set(PAGES)
    assert len(pages) > len(SETS) + len(RULES)
    headings = re.findall(r"^## (.*)$", plain(PAGES[SOURCES_PAGE]), re.MULTILINE)
    assert places <= {
        "".join(sign for sign in one.lower() if sign.isalnum() or sign in " -_").replace(" ", "-") for one in headings
    }


def test_every_source_of_a_figure_stands_on_the_page_of_sources_with_its_letter() -> None:
    page = plain(PAGES[SOURCES_PAGE])
    with CATALOGUE.spoken(PROSE):
        cited = {(clause, letter) for clause, letter, _ in clauses_of(KNOWN)}
    assert len(cited) > 90
    for clause, letter in cited:
        row = next(line for line in page.splitlines() if line.startswith(f"| {clause} |"))
        assert letter in row.split(" | ")[1]
    with pytest.raises(LookupError):
        behind("a text nobody wrote down")


def test_what_a_set_cannot_serve_is_found_in_its_declarations() -> None:
    def gaps(key: str) -> str:
        with CATALOGUE.spoken(PROSE):
            return " ".join(cannot_serve(SETS[key], KNOWN.kinds))

    assert "no limits for DC" in gaps("gb-17622")
    assert "No retest voltage was seen in it, so" in gaps("gb-17622")
    assert "never that they stand a voltage" in gaps("jp-351")
    assert "dielectric footwear, classes 3 and 4" in gaps("us-osha-137")


# the paper


def test_text_on_a_page_is_never_markup() -> None:
    hostile = "a|b *c* _d_ [e](f) <b> `g` # h ~i~ \\ & j\nk"
    cell = render(Page("t", (Grid(("x",), ((hostile,),)),), "m")).splitlines()[-1]
    assert plain(cell) == f"| {' '.join(hostile.split())} |"
    assert len(re.findall(r"(?<!\\)\|", cell)) == 2
    assert "<b>" not in cell
