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
from app.words.saying import number, say, sentences

# module and the package that brings it; what cannot be done without it stands under self-check.without/MODULE
_LIBRARIES = (
    ("dateutil", "python-dateutil"),
    ("python_calamine", "python-calamine"),
    ("sqlalchemy", "SQLAlchemy"),
    ("alembic", "alembic"),
    ("portalocker", "portalocker"),
    ("resvg_py", "resvg_py"),
    ("babel", "Babel"),
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


def _library(entry: tuple[str, str]) -> tuple[str, str, str]:
    module, package = entry
    try:
        importlib.import_module(module)
        return package, metadata.version(package), ""
    except (ImportError, OSError) as fault:
        # An OSError is a system library that the package's own one looks for.
        without = say(f"self-check.without/{module}", {})
        return package, "", say("self-check.library", {"without": without, "why": fault, "package": package})
    except metadata.PackageNotFoundError:
        return package, say("self-check.no-version", {}), ""


def _database() -> tuple[str, str, str]:
    version, missing = database()
    without = say("self-check.database", {"why": missing}) if missing else ""
    return say("self-check.part/database", {}), version, without


def _catalogues() -> list[tuple[str, str, str]]:
    known = catalogues()
    counts = {
        "kinds": known.kinds, "tasks": known.tasks, "rules": known.rules, "rule-sets": known.rule_sets,
        "calculations": calculations(), "sentences": sentences(),
    }  # fmt: skip
    return [(say(f"self-check.part/{name}", {}), number(len(entries)), "") for name, entries in counts.items()]


def _pictures() -> tuple[str, str, str]:
    scene = Scene(width=8, height=8, title="self-check", description="", items=())
    name = say("self-check.part/picture", {})
    try:
        return name, say("self-check.bytes", {"count": len(scene_png.render(scene))}), ""
    except (ImportError, OSError, ValueError) as fault:
        return name, "", say("self-check.svg-only", {"why": fault})


def _demo() -> tuple[str, str, str]:
    folder: Path = demo_folder()
    name = say("self-check.part/demo-data", {})
    if (folder / "shelf.xlsx").is_file():
        return name, str(folder), ""
    return name, "", say("self-check.no-demo", {})
