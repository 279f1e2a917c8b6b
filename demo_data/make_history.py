"""Write history.toml: two years of entries at Quarry Lane Depot, as commands somebody typed, each with its moment.

Run ``python demo_data/make_history.py`` from the project folder; with ``--check`` nothing is written and the exit code
is 1 if the file differs. The program plays them, with the sheet's own records between them, through the same commands
a keeper uses: what comes of each is judged then, and nothing here says how it ends.
"""

from __future__ import annotations

import argparse
import csv
import json
import random
import sys
import tomllib
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).resolve().parent
FIRST = date(2024, 3, 4)
DEMO_DAY = date(2026, 3, 2)
SEED = 20240304
KEEPER, OFFICER = "P01", "P09"
RETEST_DAYS = 168
NORTHGATE, FELLSIDE = "Northgate Test House", "Fellside Dielectrics"


class Act(NamedTuple):
    """One command line and its moment, the site's time."""

    at: datetime
    by: str
    command: tuple[str, ...]


class Kit(NamedTuple):
    """A kit that goes out again and again."""

    system: str
    person: str
    gloves: str
    protectors: str
    detector: str
    unit: str
    barrier: str
    locks: str
    since: date
    every: int

    @property
    def codes(self) -> tuple[str, ...]:
        return (self.gloves, self.protectors, self.detector, self.unit, self.barrier, self.locks)


KITS = (
    Kit("BUS-198", "P03", "G001", "P001", "D001", "U001", "B001", "K001", date(2025, 4, 7), 9),
    Kit("VN-96", "P05", "G002", "P002", "D002", "U002", "B002", "K002", date(2025, 5, 19), 14),
    Kit("VN-96", "P06", "G003", "P003", "D002", "U002", "B002", "K002", date(2025, 6, 4), 23),
)


def on(day: date, hour: int, minute: int = 0) -> datetime:
    return datetime.combine(day, time(hour, minute))


def sheet() -> list[dict[str, str]]:
    """The rows of shelf.csv under its own headings; codes that stand twice are left out, as the program leaves them."""
    with (HERE / "shelf.csv").open(encoding="utf-8", newline="") as file:
        _, heads, *rows = csv.reader(file, delimiter=";")
    found = [dict(zip(heads, row, strict=False)) for row in rows]
    expected = tomllib.loads((HERE / "expected.toml").read_text(encoding="utf-8"))
    wrong = {row["code"] for row in expected["wrong_rows"]}
    codes = [row["Tag no."] for row in found]
    return [row for row in found if codes.count(row["Tag no."]) == 1 and row["Tag no."] not in wrong]


def a_day(written: str) -> date | None:
    """A day in one of the keeper's ways; None for months, weeks and words."""
    for form in ("%Y-%m-%d", "%d.%m.%Y"):
        try:
            return datetime.strptime(written, form).date()
        except ValueError:
            continue
    return None


def retests(rows: list[dict[str, str]]) -> list[Act]:
    """Tests before the last one of each pair, every 24 weeks back to its beginning or the register's."""
    acts = []
    for row in rows:
        last, first = a_day(row["Last electrical test"]), a_day(row["First used"])
        if row["What it is"].lower().find("glove") < 0 or last is None or first is None or not row["Test house"]:
            continue
        days = [last - timedelta(days=RETEST_DAYS * number) for number in range(1, 6)]
        days = [day for day in days if day > max(FIRST + timedelta(days=7), first)]
        new = first - timedelta(days=21)
        if new > FIRST + timedelta(days=7) and last > first:
            days.append(new)
        acts += [retest(row["Tag no."], day) for day in days]
    return acts


def retest(code: str, day: date) -> Act:
    number = f"NTH-{day:%y}-{day.timetuple().tm_yday:03}{code[1:]}"
    words = (
        "log", "electrical-test", code, f"on={day}", "evidence=stated-pass", "result=passed", f"laboratory={NORTHGATE}",
        "method=EN 60903", f"certificate={number}",
    )  # fmt: skip
    return Act(on(day + timedelta(days=3), 10), KEEPER, words)


def first_uses(rows: list[dict[str, str]]) -> list[Act]:
    """Pairs taken in new and first handed over while the register ran: out to the pool for the day, and back."""
    acts = []
    for row in rows:
        first = a_day(row["First used"])
        if first is None or first < FIRST or "glove" not in row["What it is"].lower():
            continue
        code = row["Tag no."]
        acts.append(Act(on(first, 6, 30), KEEPER, ("hand-over", code, "--to", "pool:training")))
        acts.append(Act(on(first, 6, 45), KEEPER, ("return", code)))
    return acts


def jobs(hand: random.Random) -> list[Act]:
    """Mornings of checks, a kit out, a kit back; some days a check is forgotten and the kit is refused first."""
    acts = []
    for kit in KITS:
        day = kit.since
        while day < DEMO_DAY - timedelta(days=4):
            if day.weekday() < 5:
                acts += job(kit, day, forgotten=hand.random() < 0.12)
            day += timedelta(days=kit.every)
    return acts


def job(kit: Kit, day: date, *, forgotten: bool) -> list[Act]:
    # Two kits share a detector; the second of a day starts when the first is back.
    hour = 13 if kit.person == "P06" else 7
    checks = [
        ("log", "inspection", kit.protectors, kit.barrier, kit.locks, kit.unit),
        ("log", "inspection", kit.detector, "caps=present"),
        ("log", "air-test", kit.gloves, "left=passed", "right=passed", "inflation=1.2"),
        ("log", "self-test", kit.detector, "result=passed"),
        ("log", "self-test", kit.unit, "result=passed"),
        ("log", "inspection", kit.gloves, "clearance_mm=50"),
    ]
    out = (
        "issue",
        "--system",
        kit.system,
        "--circuit",
        "traction",
        "--task",
        "isolate-and-prove-dead",
        "--person",
        kit.person,
        "--from",
        f"{day}",
        "--until",
        f"{day}",
        "--kit",
        *kit.codes,
    )
    acts = [
        Act(on(day, hour, 10 + number), kit.person, words)
        for number, words in enumerate(checks[1:] if forgotten else checks)
    ]
    acts.append(Act(on(day, hour, 30), KEEPER, out))
    if forgotten:
        acts.append(Act(on(day, hour, 36), kit.person, checks[0]))
        acts.append(Act(on(day, hour, 40), KEEPER, out))
    acts.append(Act(on(day, hour + 4, 20), KEEPER, ("return", *kit.codes)))
    return acts


def stories(rows: list[dict[str, str]]) -> list[Act]:
    """What does not happen every week: a failed test, a defect, a recall, a night without issue, refusals, stocktakes."""
    told = [
        ("2024-03-05 08:10", KEEPER, "alias", "QL-0001", "G001"),
        ("2024-03-05 08:20", KEEPER, "bag", "BAG-BUS", "G001", "P001", "D001", "U001", "B001", "K001"),
        # A pair fails at the laboratory, is held, passes at another one and is released.
        ("2025-03-05 09:00", KEEPER, "log", "electrical-test", "G015", "on=2025-03-03", "test_v=5000",
         "kind_of_current=ac", "frequency_hz=60", "dwell_s=60", "left_ma=17.8", "right_ma=7.1", f"laboratory={NORTHGATE}",
         "certificate=NTH-25-0311"),
        ("2025-03-26 09:00", KEEPER, "log", "electrical-test", "G015", "on=2025-03-24", "evidence=stated-pass",
         "result=passed", f"laboratory={FELLSIDE}", "method=EN 60903", "certificate=FD/2025/371"),
        ("2025-03-26 09:20", OFFICER, "release", "G015"),
        # Leads come back with the inner colour showing; the lead is replaced and inspected by a second person.
        ("2024-11-12 07:00", KEEPER, "log", "inspection", "L004", "--defect", "L004:inner-colour-visible"),
        ("2024-11-14 07:00", KEEPER, "repair", "L004", "kind=repaired", "repair=new leads"),
        ("2024-11-14 07:30", "P05", "log", "inspection", "L004"),
        ("2024-11-14 07:40", KEEPER, "release", "L004"),
        # Dropped from a scissor lift: a test that names it, then released.
        ("2025-01-20 14:00", "P03", "log", "event", "G032", "kind=dropped"),
        ("2025-02-06 10:00", KEEPER, "log", "electrical-test", "G032", "on=2025-02-03", "evidence=stated-pass",
         "result=passed", "after=dropped", f"laboratory={NORTHGATE}", "method=EN 60903", "certificate=NTH-25-0207"),
        # The laboratory recalls a month of its certificates; the officer hears it is clear and releases.
        ("2025-06-23 11:00", OFFICER, "recall", "--pieces", "G014", "G016", "--reason",
         "notice of the laboratory: the readings of one bench are being looked into"),
        ("2025-07-07 09:00", OFFICER, "release", "G014", "G016"),
        # At night, without the keeper.
        ("2025-08-11 07:00", KEEPER, "taken-without-issue", "G010", "P006", "--person", "P02", "--on", "2025-08-10"),
        ("2025-08-11 07:10", KEEPER, "return", "G010", "P006"),
        ("2025-08-11 07:30", "P02", "log", "air-test", "G010", "left=passed", "right=passed", "inflation=1.2"),
        ("2025-08-11 07:32", "P02", "log", "inspection", "P006"),
        ("2025-08-11 07:40", OFFICER, "release", "G010", "P006"),
        # A slip of the pen, put right.
        ("2025-10-20 08:00", KEEPER, "log", "event", "G033", "kind=wet"),
        ("2025-10-20 08:05", KEEPER, "correct", "{last}", "--reason", "the wet pair was another one, of a visitor"),
        ("2025-10-20 08:25", OFFICER, "log", "air-test", "G033", "left=passed", "right=passed", "inflation=1.2"),
        ("2025-10-20 08:30", OFFICER, "release", "G033"),
        ("2025-12-01 09:00", KEEPER, "reserve", "G041", "--person", "P07", "--from", "2025-12-08", "--until", "2025-12-12"),
        # Refusals that were worth having.
        ("2026-01-05 07:40", KEEPER, "issue", "--system", "VN-96", "--task", "isolate-and-prove-dead", "--person", "P06",
         "--from", "2026-01-05", "--until", "2026-01-05", "--kit", "G029", "P003", "D002", "U002", "B002", "K002"),
        ("2026-02-16 15:00", KEEPER, "issue", "--system", "BUS-198", "--task", "isolate-and-prove-dead", "--person",
         "P10", "--from", "2026-02-16", "--until", "2026-02-16", "--kit", "BAG-BUS"),
        ("2026-02-20 09:00", KEEPER, "issue", "--system", "STORE-384", "--task", "isolate-and-prove-dead", "--person",
         "P05", "--from", "2026-02-20", "--until", "2026-02-20", "--kit", "G002", "P002", "D002", "U002", "B002", "K002"),
    ]  # fmt: skip
    acts = [
        Act(datetime.strptime(when, "%Y-%m-%d %H:%M"), by, words) for when, by, *rest in told for words in [tuple(rest)]
    ]
    shelf = [row["Tag no."] for row in rows if row["Crib"] == "Workshop crib"]
    away = {"G023", "G024", "G025", "G022"}
    found = [code for code in shelf if code not in away]
    acts.append(Act(on(date(2026, 1, 30), 16), KEEPER, ("stocktake", "--crib", "Workshop crib", "--mark-lost", *found)))
    return acts


def written() -> str:
    """The whole file."""
    rows = sheet()
    acts = [*retests(rows), *first_uses(rows), *jobs(random.Random(SEED)), *stories(rows)]
    lines = ["# Two years of entries at Quarry Lane Depot. Written by make_history.py.", ""]
    for act in sorted(acts, key=lambda one: one.at):
        lines += [
            "[[acts]]",
            f"at = {act.at.isoformat()}",
            f'by = "{act.by}"',
            f"command = {json.dumps(list(act.command), ensure_ascii=False)}",
            "",
        ]
    return "\n".join(lines)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true")
    path = HERE / "history.toml"
    if parser.parse_args().check:
        return int(path.read_text(encoding="utf-8") != written())
    path.write_text(written(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
