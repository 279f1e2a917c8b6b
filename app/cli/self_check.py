"""self-check: are all parts here, and does what is declared fit together?"""

from __future__ import annotations

import argparse
import importlib
import platform
from importlib import metadata
from pathlib import Path

from app import __version__
from app.cli.arguments import DONE, FAULT
from app.cli.output import show_json, show_lines
from app.compose import database, demo_folder
from app.decision.judging.catalogues import calculations, catalogues
from app.outputs.paper import scene_png
from app.outputs.pictures.scene import Scene
from app.words.saying import say, sentences

# module, the package that brings it, and what cannot be done without it
_LIBRARIES = (
    ("dateutil", "python-dateutil", "Dates cannot be worked out."),
    ("python_calamine", "python-calamine", "XLSX sheets cannot be read; save the sheet as CSV meanwhile."),
    ("sqlalchemy", "SQLAlchemy", "No register can be opened; check and due work on files meanwhile."),
    ("alembic", "alembic", "No register can be made or brought up to date."),
    ("portalocker", "portalocker", "No register can be opened."),
    ("resvg_py", "resvg_py", "Pictures can be written as SVG only."),
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """self-check takes nothing."""
    del parser


def run(args: argparse.Namespace) -> int:
    """0 if everything needed is here, 1 if not."""
    rows = [
        _python(), ("cuffdate", __version__, ""), *map(_library, _LIBRARIES), _database(), *_catalogues(), _pictures(),
        _demo(),
    ]  # fmt: skip
    is_whole = all(not missing for _, _, missing in rows)
    if args.json:
        parts = [{"name": name, "found": version or None, "next_step": missing} for name, version, missing in rows]
        show_json({"complete": is_whole, "parts": parts})
    else:
        show_lines([say("self-check.title", {})])
        for name, version, missing in rows:
            key = "self-check.missing" if missing else "self-check.ok"
            show_lines([say(key, {"name": name, "found": version, "next": missing})])
        show_lines([say("self-check.done" if is_whole else "self-check.incomplete", {})])
    return DONE if is_whole else FAULT


def _python() -> tuple[str, str, str]:
    return "Python", platform.python_version(), ""


def _library(entry: tuple[str, str, str]) -> tuple[str, str, str]:
    module, package, without = entry
    try:
        importlib.import_module(module)
        return package, metadata.version(package), ""
    except (ImportError, OSError) as fault:
        # An OSError is a system library that the package's own one looks for.
        return package, "", f"{without} ({fault}) Install {package} again."
    except metadata.PackageNotFoundError:
        return package, "present, version not recorded", ""


def _database() -> tuple[str, str, str]:
    version, missing = database()
    return "database", version, "" if not missing else say("self-check.database", {"why": missing})


def _catalogues() -> list[tuple[str, str, str]]:
    known = catalogues()
    counts = {
        "kinds": known.kinds, "tasks": known.tasks, "rules": known.rules, "rule sets": known.rule_sets,
        "calculations": calculations(), "sentences": sentences(),
    }  # fmt: skip
    return [(name, str(len(entries)), "") for name, entries in counts.items()]


def _pictures() -> tuple[str, str, str]:
    scene = Scene(width=8, height=8, title="self-check", description="an empty picture", items=())
    try:
        return "picture as PNG", f"{len(scene_png.render(scene))} bytes", ""
    except (ImportError, OSError, ValueError) as fault:
        return "picture as PNG", "", f"Pictures can be written as SVG only ({fault})."


def _demo() -> tuple[str, str, str]:
    folder: Path = demo_folder()
    if (folder / "shelf.xlsx").is_file():
        return "demo data", str(folder), ""
    return "demo data", "", "Install the program again; the demo cannot run without them."
