"""The pictures of the window's guide: each place on the demo register, in light and dark.

`python -m tests.guide_pictures REGISTER FOLDER`: REGISTER is the demo's (`cuffdate demo --no-window --into demo_out`
writes demo_out/demo.cuffdate), FOLDER where the pictures go (docs/guide).
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Mapping
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage

from tests.drive import Drive


def counter(drive: Drive) -> None:
    """A kit with one weak link put down, and the decision."""
    drive.go("counter")
    drive.scan("P03")
    drive.type_in(drive.screen.give.job.system, "BUS-198")
    drive.type_in(drive.screen.give.job.task, "isolate-and-prove-dead")
    for code in ("G015", "P001", "D001", "U001", "B001", "K001"):
        drive.scan(code)


def bench(drive: Drive) -> None:
    """An air test, the left glove looked at."""
    drive.go("bench")
    drive.scan("G015")
    drive.click(drive.screen.forms["air"].cards["left"].passed)


def shelf(drive: Drive) -> None:
    """The card of a pair."""
    drive.go("shelf")
    drive.scan("G028")


def due(drive: Drive) -> None:
    """What is overdue, and what comes."""
    drive.go("due")


def few_colours(image: QImage) -> QImage:
    """The same picture in its 256 most frequent colours: flat surfaces keep theirs, and the checkout stays small."""
    of_32_bits = image.convertToFormat(QImage.Format.Format_RGB32)
    counted = Counter(memoryview(of_32_bits.constBits()).cast("I"))
    most = [colour for colour, _ in counted.most_common(256)]
    return of_32_bits.convertToFormat(QImage.Format.Format_Indexed8, most, Qt.ImageConversionFlag.ThresholdDither)


PLACES: Mapping[str, Callable[[Drive], None]] = {"counter": counter, "bench": bench, "shelf": shelf, "due": due}


def main(register: Path, folder: Path) -> None:
    """Draw every place twice."""
    with tempfile.TemporaryDirectory() as scratch:
        for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME"):
            os.environ[name] = scratch
        copy = Path(shutil.copy(register, scratch))
        for palette in ("light", "dark"):
            drive = Drive(copy)
            drive.main.theme.choose(palette)
            for place, set_up in PLACES.items():
                set_up(drive)
                drive.settle()
                few_colours(drive.main.grab().toImage()).save(str(folder / f"window-{place}-{palette}.png"))
            drive.ask.answers.append(("close", ""))
            drive.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
