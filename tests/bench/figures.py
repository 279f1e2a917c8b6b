"""What is measured and the floor it is held against; both in the same run, each the median of repeated runs.

Only ratios are reported: seconds say more about the machine than about the program.
"""

from __future__ import annotations

import csv
import io
import json
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from app.compose import open_register
from app.decision.case.pieces import read_piece
from app.decision.domain.register import Depot, Register
from app.decision.judging.answers import DueQuestion, KitQuestion
from app.intake.register_sheet import read_register_sheet
from app.outputs.documents.decision import as_values
from app.usecases.check_kit import check_kit
from app.usecases.list_due import list_due

ROOT = Path(__file__).parent.parent.parent
DEMO = ROOT / "demo_data"
DEMO_DAY = date(2026, 3, 2)
PIECES = 1_000
KIT = ("G005", "P004", "N001", "L004", "U003", "B003", "K003", "D001")
REGISTER = (
    "--sheet",
    str(DEMO / "shelf.xlsx"),
    "--depot",
    str(DEMO / "depot.toml"),
    "--checks",
    str(DEMO / "checks.toml"),
)
CHECK = (
    "check", *REGISTER, "--system", "BUS-198", "--circuit", "traction", "--task", "isolate-and-prove-dead",
    "--person", "P03", "--on", "2026-03-02", "--until", "2026-03-06",
    "--kit", "G001", "P001", "D001", "U001", "B001", "K001",
)  # fmt: skip
#: Prints, one a line, every module a command has loaded that is not ours; what the command prints goes to nobody, and
#: nothing is imported here that an interpreter has not loaded already.
_LOADED = """
import os, sys
out, sys.stdout = sys.stdout, open(os.devnull, "w")
from app.__main__ import main
main(sys.argv[1:])
print("\\n".join(name for name in sys.modules if name.split(".")[0] not in ("app", "__main__")), file=out)
"""


class Figure(NamedTuple):
    """One line of the table: medians in seconds; `budget` is the largest ratio allowed, None where none is set."""

    name: str
    floor_name: str
    seconds: float
    floor: float
    budget: float | None

    @property
    def ratio(self) -> float:
        """How many floors the figure is."""
        return self.seconds / self.floor

    @property
    def is_within(self) -> bool:
        """Whether the budget is kept, where there is one."""
        return self.budget is None or self.ratio <= self.budget


def in_turn(
    act: Callable[[], object], floor: Callable[[], object], *, runs: int, loops: int = 1
) -> tuple[float, float]:
    """Medians of both in seconds; taken in turn, so that a busy moment meets both."""
    timed: tuple[list[float], list[float]] = ([], [])
    for _ in range(runs):
        for what, found in zip((act, floor), timed, strict=True):
            began = time.perf_counter()
            for _ in range(loops):
                what()
            found.append((time.perf_counter() - began) / loops)
    return statistics.median(timed[0]), statistics.median(timed[1])


def kit_decision() -> Figure:
    """A kit of eight from the demo shelf, judged without looking for a cure, against writing its answer as JSON."""
    sheet, depot, checks = DEMO / "shelf.csv", DEMO / "depot.toml", DEMO / "checks.toml"
    register = open_register(sheet, depot, checks, (), DEMO_DAY).register
    question = KitQuestion(
        system="BUS-198", circuits=("traction",), task="isolate-and-prove-dead", person="P03", kit=KIT, on=DEMO_DAY,
        until=DEMO_DAY,
    )  # fmt: skip
    values = as_values(check_kit(register, question, with_changes=False))
    seconds = in_turn(
        lambda: check_kit(register, question, with_changes=False), lambda: json.dumps(values), runs=15, loops=40
    )
    return Figure("decision for a kit of eight, cure apart", "its own answer through json.dumps", *seconds, 30)


def due_list() -> Figure:
    """A thousand pieces judged for the day, against reading the sheet they come from."""
    with TemporaryDirectory() as folder:
        sheet = Path(folder) / "thousand.csv"
        sheet.write_text(thousand_rows(), encoding="utf-8")
        read = read_register_sheet(sheet, on=DEMO_DAY)
        pieces = {row.code: read_piece(row.fields, row.code) for row in read.rows}
        if len(pieces) != PIECES:
            message = f"{len(pieces)} pieces read of {PIECES}: {read.faults[:3]}"
            raise ValueError(message)
        register = Register(Depot(), pieces)
        question = DueQuestion(on=DEMO_DAY)
        seconds = in_turn(lambda: list_due(register, question), lambda: read_register_sheet(sheet, on=DEMO_DAY), runs=9)
    return Figure("due list of 1,000 pieces", "reading the sheet of 1,000 rows", *seconds, 20)


def thousand_rows() -> str:
    """The demo shelf's readable rows over and over under codes of their own, title and headings as they stand there."""
    title, headings, *rows = csv.reader(io.StringIO((DEMO / "shelf.csv").read_text(encoding="utf-8")), delimiter=";")
    code = headings.index("Tag no.")
    sheet = read_register_sheet(DEMO / "shelf.csv", on=DEMO_DAY)
    readable = [row for row in rows if row[code] not in sheet.bad_codes]
    out = io.StringIO()
    writer = csv.writer(out, delimiter=";", lineterminator="\n")
    writer.writerows((title, headings))
    for number in range(PIECES):
        row = list(readable[number % len(readable)])
        row[code] = f"X{number:04d}"
        writer.writerow(row)
    return out.getvalue()


def _process(*argv: str) -> None:
    done = subprocess.run([sys.executable, *argv], cwd=ROOT, capture_output=True, check=False)
    if done.returncode not in (0, 3):
        raise RuntimeError(done.stderr.decode())


def _against_an_empty_process(name: str, argv: tuple[str, ...], budget: float, runs: int) -> Figure:
    """A command as a process, against an empty process that imports what the command imports, ours left out."""
    told = subprocess.run([sys.executable, "-c", _LOADED, *argv], cwd=ROOT, capture_output=True, text=True, check=True)
    own = subprocess.run(
        [sys.executable, "-c", "import sys; print('\\n'.join(sys.modules))"], capture_output=True, text=True, check=True
    )
    more = [one for one in told.stdout.split() if one not in own.stdout.split()]
    # By name: not every module's name can be written after "import" (the one of the platform's settings has hyphens).
    empty = f"import importlib\nfor name in {more!r}: importlib.import_module(name)"
    _process("-c", empty)
    seconds = in_turn(lambda: _process("-m", "app", *argv), lambda: _process("-c", empty), runs=runs)
    return Figure(name, f"an empty process importing the same {len(more)} modules", *seconds, budget)


def check_process() -> Figure:
    """`check` on the demo sheet, from the shell and back."""
    return _against_an_empty_process("check on the demo sheet, as a process", CHECK, 2, 15)


def start_up() -> Figure:
    """`--version`, from the shell and back."""
    return _against_an_empty_process("start-up (--version), as a process", ("--version",), 2, 15)


MEASURED: tuple[Callable[[], Figure], ...] = (kit_decision, due_list, check_process, start_up)
