"""One mutant before the tests, in a process of its own: the changed source is imported in place of the file.

Nothing is written into `app`: a finder ahead of Python's own hands out the changed source for one module.
"""

from __future__ import annotations

import importlib.abc
import importlib.machinery
import importlib.util
import multiprocessing
import os
import sys
from collections.abc import Collection, Sequence
from multiprocessing.connection import Connection
from types import ModuleType
from typing import Any, NamedTuple

from tests.mutation.mutants import ROOT
from tests.mutation.nearest import Stages

FEW = "10"
_OPTIONS = (
    "-c", str(ROOT / "tests" / "mutation" / "bare.ini"), "--rootdir", str(ROOT), "-q", "--no-header", "--tb=no",
    "-p", "no:cacheprovider", "-p", "_hypothesis_pytestplugin", "--hypothesis-seed=0",
)  # fmt: skip
# Loaded once and handed on to every trial: others' code that no mutant touches.
WARM = ("pytest", "_hypothesis_pytestplugin", "hypothesis.strategies", "msgspec", "dateutil.relativedelta")


class Changed(NamedTuple):
    """A module's dotted name and the source that stands in for its file."""

    module: str
    source: str


class Tried(NamedTuple):
    """What came of one trial.

    `failed`: node ids of failing tests (the first alone where a mutant is tried), or a word in brackets where no test
    could be named; empty where nothing noticed. `was_loaded`: whether the changed source was imported at all.
    """

    failed: tuple[str, ...]
    was_loaded: bool


class InPlace(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Finds one module and runs the changed source as it."""

    def __init__(self, change: Changed) -> None:
        self.change = change
        self.was_loaded = False

    def find_spec(self, name: str, *_: object) -> importlib.machinery.ModuleSpec | None:
        if name != self.change.module:
            return None
        sys.meta_path.remove(self)
        there = importlib.util.find_spec(name)
        sys.meta_path.insert(0, self)
        assert there is not None
        return importlib.util.spec_from_file_location(
            name, there.origin, loader=self, submodule_search_locations=there.submodule_search_locations
        )

    def exec_module(self, module: ModuleType) -> None:
        self.was_loaded = True
        exec(compile(self.change.source, module.__file__ or self.change.module, "exec"), vars(module))


class _Watch:
    """Remembers what failed."""

    def __init__(self) -> None:
        self.failed: list[str] = []

    def pytest_runtest_logreport(self, report: Any) -> None:
        if report.failed and report.nodeid not in self.failed:
            self.failed.append(report.nodeid)

    pytest_collectreport = pytest_runtest_logreport


def tried(change: Changed | None, stages: Stages, known: Collection[str] = (), limit: float = 600) -> Tried:
    """Try one change, or none: then every failing test is named.

    `known`: tests that fail without a change and are left out; `limit`: seconds, a hang has been noticed.
    """
    way = "forkserver" if "forkserver" in multiprocessing.get_all_start_methods() else "spawn"
    context: Any = multiprocessing.get_context(way)
    if way == "forkserver":
        context.set_forkserver_preload(list(WARM))
    here, there = context.Pipe(duplex=False)
    process = context.Process(target=_try, args=(there, change, stages, tuple(sorted(known))))
    process.start()
    there.close()
    try:
        return here.recv() if here.poll(limit) else Tried(("(time limit)",), was_loaded=True)
    except EOFError:
        return Tried(("(the process ended)",), was_loaded=True)
    finally:
        process.kill()
        process.join()
        here.close()


def _try(answer: Connection, change: Changed | None, stages: Stages, known: Sequence[str]) -> None:
    """The trial itself, in its own process."""
    import pytest

    _alone()
    finder = InPlace(change) if change else None
    if finder:
        sys.meta_path.insert(0, finder)
    left_out = [part for one in known for part in ("--deselect", one)]
    failed: list[str] = []
    for stage in stages:
        files = [one for one in stage if one not in known]
        if not files:
            continue
        watch = _Watch()
        status = pytest.main([*_OPTIONS, *(["-x"] if change else []), *left_out, *files], plugins=[watch])
        failed += watch.failed or ([] if status in (0, 5) else ["(the tests could not begin)"])
        if failed and change:
            break
    answer.send(Tried(tuple(failed[:1] if change else failed), finder is not None and finder.was_loaded))


def _alone() -> None:
    """Say nothing, take the same few examples every time and remember none of them: no trial may help another."""
    from hypothesis import settings

    os.chdir(ROOT)
    os.environ.update(PYTEST_DISABLE_PLUGIN_AUTOLOAD="1", CUFFDATE_EXAMPLES=FEW)
    settings.register_profile("alone", database=None, derandomize=True, deadline=None)
    settings.load_profile("alone")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(nowhere, stream)
