"""The running examples in the docstrings of what decides are run."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
from types import ModuleType

import pytest

import app

ROOMS = (
    "app.decision.domain",
    "app.decision.kinds",
    "app.decision.tasks",
    "app.decision.rules",
    "app.decision.rulesets",
    "app.decision.judging",
)


def modules_with_examples() -> list[ModuleType]:
    names = [info.name for info in pkgutil.walk_packages(app.__path__, "app.") if info.name.startswith(ROOMS)]
    return [module for name in names if ">>>" in ((module := importlib.import_module(name)).__doc__ or "")]


MODULES = modules_with_examples()


def test_there_are_examples() -> None:
    assert {"app.decision.domain.calendar", "app.decision.domain.clock", "app.decision.domain.chain"} <= {
        module.__name__ for module in MODULES
    }


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_examples_come_out_as_written(module: ModuleType) -> None:
    # The module's own docstring only: C structs answer doctest's walk with a call that lacks its arguments.
    examples = doctest.DocTestParser().get_doctest(module.__doc__ or "", dict(vars(module)), module.__name__, None, 0)
    result = doctest.DocTestRunner().run(examples)
    assert result.attempted >= 1
    assert result.failed == 0
