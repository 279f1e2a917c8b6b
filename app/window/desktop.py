"""What this desktop keeps for the window: what it was left with, the log, the demo; and how the demo is built."""

from __future__ import annotations

import sys
import tomllib
from contextlib import suppress
from pathlib import Path

from platformdirs import user_config_path, user_documents_path, user_log_path

from app.compose import clock, write_file
from app.decision.domain.errors import BadInput


def _kept_by_user(name: str) -> Path:
    """A file of the user's own settings folder."""
    return user_config_path("cuffdate", appauthor=False) / name


def remembered(key: str) -> str:
    """What this user's window was left with: the register, the palette, the scanner's prefix; "" for nothing."""
    try:
        table = tomllib.loads(_kept_by_user("window.toml").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return ""
    return str(table.get(key, ""))


def remember(key: str, value: str) -> None:
    """Keep it for the next start; where it cannot be kept the window works all the same."""
    # Once a register is open: the first rows do without its 5 ms.
    from app.outputs.paper.toml_text import render  # noqa: PLC0415

    path = _kept_by_user("window.toml")
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        table = {}
    with suppress(BadInput):
        write_file(path, render({**table, key: value}))


def write_down(text: str) -> str:
    """Add a fault of ours to the log in the user's own folder; answers where it lies."""
    path = user_log_path("cuffdate", appauthor=False) / "faults.log"
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("a", encoding="utf-8", errors="backslashreplace") as log:
            log.write(f"{clock().isoformat()}\n{text}\n")
    return str(path)


def demo_words(folder: Path) -> list[str]:
    """How this program is started to build the demo's register in a folder."""
    frozen = getattr(sys, "frozen", False)
    return [sys.executable, *([] if frozen else ["-m", "app"]), "demo", "--no-window", "--into", str(folder)]


def own_folder() -> Path:
    """Where a register goes unless somebody says otherwise: the user's documents."""
    return user_documents_path()


def demo_place() -> Path:
    """Where the window keeps the demo's register."""
    return _kept_by_user("demo")
