"""The smoke set: the window on a real X server, where one can be started (long run)."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

XVFB = shutil.which("Xvfb")
SCRIPT = """
import sys
from pathlib import Path
from PySide6.QtGui import QGuiApplication
from tests.drive import Drive
from tests.fakes import KIT
import app.compose
from tests.fakes import FixedClock
app.compose.clock = FixedClock()
drive = Drive(Path(sys.argv[1]))
assert QGuiApplication.platformName() == "xcb", QGuiApplication.platformName()
drive.scan("P1")
drive.type_in(drive.screen.give.job.system, "BUS")
drive.type_in(drive.screen.give.job.task, "isolate-and-prove-dead")
for code in KIT:
    drive.scan(code)
drive.click(drive.screen.give.issue)
print(drive.line)
for place in drive.main.buttons:
    drive.go(place)
    picture = drive.main.screen().grabWindow(drive.main.winId()).toImage()
    colours = {picture.pixel(x, y) for x in range(0, picture.width(), 7) for y in range(0, picture.height(), 7)}
    print(place, picture.width(), picture.height(), len(colours))
drive.close()
"""


@pytest.fixture
def display() -> Iterator[str]:
    if XVFB is None:
        pytest.skip("no X server to be started here")
    read, write = os.pipe()
    server = subprocess.Popen(
        [XVFB, "-displayfd", str(write), "-screen", "0", "1400x900x24", "-nolisten", "tcp"],
        pass_fds=[write], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    os.close(write)
    try:
        with os.fdopen(read) as told:
            yield f":{told.readline().strip()}"
    finally:
        server.terminate()
        server.wait()


@pytest.mark.long
def test_a_kit_is_issued_and_every_place_painted_on_a_real_x_server(display: str, register: Path) -> None:
    env = {**os.environ, "DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(register)],
        env=env, capture_output=True, text=True, check=False, timeout=120, cwd=Path(__file__).parents[2],
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    lines = done.stdout.splitlines()
    assert "Issued 6 to P1" in lines[0]
    assert len(lines) == 5
    for line in lines[1:]:
        place, wide, high, colours = line.split()
        assert int(wide) >= 1024, place
        assert int(high) >= 640, place
        assert int(colours) > 20, place
