"""The window's figures: painted and first rows against a bare window, and how long its thread stands still under load.

A bare window is the toolkit's own application with an empty main window, in a process of its own. The stall of an idle
window is taken in the same process: a bare window, and the same work in a thread beside it.
"""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from tests.bench.figures import ROOT, Figure

RUNS = 9
_ENDS = "import os, sys; sys.stdout.flush(); os._exit(0)"
_BARE = f"""
from PySide6.QtWidgets import QApplication, QMainWindow
class Bare(QMainWindow):
    def paintEvent(self, event):
        super().paintEvent(event)
        {_ENDS}
application = QApplication([])
window = Bare()
window.resize(1240, 800)
window.show()
application.exec()
"""
_PAINTED = f"""
import sys
from pathlib import Path
from app.window import main_window, start
class Timed(main_window.MainWindow):
    def paintEvent(self, event):
        super().paintEvent(event)
        {_ENDS}
start.MainWindow = Timed
start.run(Path(sys.argv[1]))
"""
_FIRST_ROWS = f"""
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from app.window import start
application = start.application_of()
kept = []
window = start.new_window(application, Path(sys.argv[1]), kept.append)
window.show()
def look():
    # Asked of our own screen: a search among the toolkit's children makes a word for every class the toolkit has.
    table = getattr(window.shown, "table", None)
    if table is not None and table.isVisible() and table.model().rowCount() > 0:
        window.repaint()
        {_ENDS}
timer = QTimer(interval=1)
timer.timeout.connect(look)
timer.start()
application.exec()
"""


def window_figures(size: int = 10_000) -> Iterator[Figure]:
    """Every figure of the window on a register of this many pieces."""
    from tests.bench.store_files import make_register

    with TemporaryDirectory() as folder:
        path = Path(folder) / "register.cuffdate"
        make_register(path, size)
        yield _started("window painted", _PAINTED, path, Path(folder), "", 1.3)
        yield _started(f"first rows on the shelf, {size:,} pieces", _FIRST_ROWS, path, Path(folder), "shelf", 2.6)
        yield from stalls(path, size)
    from tests.bench.window_rows import row_figures

    yield from row_figures()


def _started(name: str, script: str, path: Path, folder: Path, place: str, budget: float) -> Figure:
    settings = folder / f"settings-{place or 'none'}"
    (settings / "cuffdate").mkdir(parents=True, exist_ok=True)
    (settings / "cuffdate" / "window.toml").write_text(f'place = "{place}"\n', encoding="utf-8")
    env = {
        **os.environ,
        "QT_QPA_PLATFORM": "offscreen",
        "XDG_CONFIG_HOME": str(settings),
        "QT_LOGGING_RULES": "*=false",
    }
    env.pop("PYTHONDONTWRITEBYTECODE", None)

    def run(text: str) -> float:
        began = time.perf_counter()
        done = subprocess.run(
            [sys.executable, "-c", text, str(path)], cwd=ROOT, env=env, capture_output=True, check=False
        )
        if done.returncode:
            raise RuntimeError(done.stderr.decode())
        return time.perf_counter() - began

    for text in (script, _BARE):
        run(text)
    timed = [(run(script), run(_BARE)) for _ in range(RUNS)]
    return Figure(name, "a bare window", median(one for one, _ in timed), median(two for _, two in timed), budget)


def stalls(path: Path, size: int) -> Iterator[Figure]:
    """The longest gap between two turns of the window's thread while the register verifies and lists itself."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from app.usecases.verify_register import verify_register
    from tests.drive import Drive

    drive = Drive(path)
    drive.go("shelf")
    for name, work in (("verify", verify_register), ("list and export", _exported)):
        ours: list[float] = []
        idle: list[float] = []
        for _ in range(3):
            ours.append(_longest_gap(drive, lambda work=work: _through_doors(drive, work)))  # type: ignore[misc]
            idle.append(_longest_gap(drive, lambda work=work: _beside(path, work)))  # type: ignore[misc]
        floor = "an idle window beside the same work"
        yield Figure(f"longest stall during {name}, {size:,} pieces", floor, median(ours), median(idle), 3)
    drive.close()


def _exported(desk: object) -> object:
    from app.decision.judging.answers import DueQuestion
    from app.outputs.documents.due_list import build
    from app.outputs.paper.csv_table import render
    from app.usecases.desk import Desk
    from app.usecases.list_shelf import list_shelf

    assert isinstance(desk, Desk)
    return render(build(list_shelf(desk, DueQuestion(desk.today()))))


def _longest_gap(drive: object, begin: Callable[[], Callable[[], bool]]) -> float:
    from tests.drive import Drive

    assert isinstance(drive, Drive)
    is_done = begin()
    last, longest = time.perf_counter(), 0.0
    while not is_done():
        drive.application.processEvents()
        now = time.perf_counter()
        longest, last = max(longest, now - last), now
        time.sleep(0.001)
    return longest


def _through_doors(drive: object, work: Callable[..., object]) -> Callable[[], bool]:
    from tests.drive import Drive

    assert isinstance(drive, Drive)
    done: list[object] = []
    drive.window.doors.ask(work, done.append, done.append, owner=drive.main, slot="measured", is_long=True)
    return lambda: bool(done)


def _beside(path: Path, work: Callable[..., object]) -> Callable[[], bool]:
    from contextlib import closing

    from tests.bench.store_files import desk_at

    def run() -> None:
        desk = desk_at(path)
        with closing(desk.store):
            work(desk)

    thread = threading.Thread(target=run)
    thread.start()
    return lambda: not thread.is_alive()
