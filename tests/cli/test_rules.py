"""rules at the command line: what each act takes, what a file may not loosen, and the forms of the lists."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from app.decision.judging.figures_known import every_figure
from app.outputs.documents.figures import named, needed_words
from tests.conftest import Cli
from tests.fakes import stocked

FIGURE = "us-osha-137/current/1/360"


@pytest.fixture
def store(tmp_path: Path) -> tuple[str, str]:
    path = tmp_path / "r.cuffdate"
    stocked(path).store.close()
    return "--store", str(path)


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (("show", "margin_percent=5"), "margin_percent=5 does not belong to rules show"),
        (("show", "--unseen"), "--unseen does not belong to rules show"),
        (("set", "warning_days=20", "--by", "P9", "--document", "x"), "--document does not belong to rules set"),
        (("set", "warning_days=20", "--by", "P9", "--set", "jp-351"), "--set does not belong to rules set"),
        (("confirm", FIGURE, "--by", "P9", "--reason", "x"), "--reason does not belong to rules confirm"),
        (("figures", FIGURE), f"{FIGURE} does not belong to rules figures"),
        (("confirm", FIGURE, "--document", "x"), "Nobody is named who does this"),
        (("unconfirm", FIGURE, "--reason", "x"), "Nobody is named who does this"),
        (("set", "warning_days=20"), "Nobody is named who does this"),
        (("confirm", "--by", "P9", "--document", "x"), "which figure"),
        (("confirm", FIGURE, "--by", "P9", "--document", "x", "--on", "1 March"), "is not a day"),
        (("figures", "--set", "en-60903"), 'Did you mean "en-60903-2003"?'),
        (("set", "confirmed_in_print=all", "--by", "P9"), "one by one"),
    ],
)  # fmt: skip
def test_what_an_act_does_not_take_is_named(
    words: tuple[str, ...], named: str, cli: Cli, store: tuple[str, str]
) -> None:
    said = cli("rules", *words, *store)
    assert (said.status, said.out) == (2, "")
    assert named in said.err
    assert "Next: " in said.err


def test_the_figures_come_as_text_csv_and_json_in_peoples_units(cli: Cli, store: tuple[str, str]) -> None:
    assert (
        cli("rules", "confirm", FIGURE, "--by", "P9", "--document", "own copy", "--on", "2026-03-01", *store).status
        == 0
    )
    rows = {
        one["Figure"]: one
        for one in csv.DictReader(io.StringIO(cli("rules", "figures", "--format", "csv", *store).out))
    }
    assert rows[FIGURE]["Value"] == "14 mA"
    assert rows[FIGURE]["In print"] == "confirmed by P9 on 2026-03-01 against own copy (site:8)"
    assert rows["us-osha-137/retest/ac/00"]["In print"] == "not yet checked"
    assert rows["us-osha-137/use/ac/0"]["Value"] == "1,000 V"
    assert rows["us-osha-137/trim-least"]["Value"] == "560 mm"
    assert rows["us-osha-137/interval/rubber-gloves"]["Value"].startswith(
        "12 months from the test; 6 months from the first issue"
    )
    assert rows["house/clearance/cautious/0"]["Value"] == "25 mm"
    told = {one["figure"]: one for one in json.loads(cli("rules", "figures", "--json", *store).out)}
    assert set(told) == set(rows)
    assert told[FIGURE]["confirmed"] == {"by": "P9", "on": "2026-03-01", "document": "own copy", "entry": "site:8"}
    assert [told[key]["waits"] for key in (FIGURE, "us-osha-137/retest/ac/00", "us-osha-137/use/ac/0")] == [
        False, True, False,
    ]  # fmt: skip
    unseen = json.loads(cli("rules", "figures", "--unseen", "--format", "json", *store).out)
    assert {one["figure"] for one in unseen} == {key for key, one in told.items() if one["waits"]}
    text = cli("rules", "figures", "--unseen", "--set", "iec-60903-2014", *store).out
    assert "iec-60903-2014/interval/rubber-sleeves" in text
    assert "us-osha-137" not in text


def test_where_nothing_waits_the_list_says_so(cli: Cli, store: tuple[str, str]) -> None:
    waiting = [one["figure"] for one in json.loads(cli("rules", "figures", "--unseen", "--json", *store).out)]
    done = cli("rules", "confirm", *waiting, "--by", "P9", "--document", "the standards, own copies", *store)
    assert done.status == 0, done.err
    assert "Every figure is confirmed." in cli("rules", "figures", "--unseen", *store).out


def test_every_figure_has_words_for_what_it_is_needed_for() -> None:
    known = every_figure()
    assert [key for key, one in known.items() if needed_words(one).startswith(key)] == []
    assert [key for key, one in known.items() if not named(one).value] == []
    assert needed_words(known["us-osha-137/current/1/360"]) == (
        "leakage current, class 1, length 360 mm: rubber insulating gloves and composite gloves"
    )


@pytest.mark.parametrize(
    ("site", "named", "next_step"),
    [
        ('dielectric_exempt_00_0 = { approved_by = "P9", reason = "annex E.5" }', "dielectric_exempt_00_0", "choose a rule set"),
        ('rule_sets = ["us-nfpa-70e"]\nwithout_protectors_reading = "us-osha-137"', "without_protectors_reading",
         "choose a rule set"),
        ('tip_profile = "iec"', "tip_profile", "approvals ="),
        ('confirmed_in_print = ["us-osha-137/current/1/360"]', "nobody is named who saw them", "approvals ="),
        ('confirmed_in_print = "all"', "worked cases alone", "List the keys"),
    ],
)  # fmt: skip
def test_a_depot_file_may_not_loosen_what_nobody_offers(  # the columns above
    site: str, named: str, next_step: str, cli: Cli, store: tuple[str, str], tmp_path: Path
) -> None:
    depot = tmp_path / "depot.toml"
    depot.write_text(f"[site]\n{site}\n", encoding="utf-8")
    before = Path(store[1]).read_bytes()
    said = cli("load", str(depot), "--by", "P9", *store)
    assert said.status == 2
    assert str(depot) in said.err
    assert named in said.err
    assert next_step in said.err.splitlines()[-1]
    assert Path(store[1]).read_bytes() == before


def test_what_a_chosen_set_cannot_serve_is_said_by_load_too(cli: Cli, store: tuple[str, str], tmp_path: Path) -> None:
    depot = tmp_path / "depot.toml"
    depot.write_text('[site]\nrule_sets = ["gb-17622"]\n', encoding="utf-8")
    assert "China, GB/T 17622-2008: no limits for DC were seen" in cli("load", str(depot), "--by", "P9", *store).out
