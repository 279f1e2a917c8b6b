"""The running examples in the docstrings of what decides are run."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
from contextlib import redirect_stdout
from io import StringIO
from types import ModuleType

import pytest

import app
from app.decision.judging.catalogues import catalogues
from tests import build

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


def run(module: ModuleType) -> tuple[list[doctest.Example], doctest.TestResults]:
    # The module's own docstring only: C structs answer doctest's walk with a call that lacks its arguments.
    names = {**vars(build), **vars(module)}
    examples = doctest.DocTestParser().get_doctest(module.__doc__ or "", names, module.__name__, None, 0)
    return examples.examples, doctest.DocTestRunner().run(examples)


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_examples_come_out_as_written(module: ModuleType) -> None:
    examples, result = run(module)
    assert examples
    assert result.attempted == len(examples)
    assert result.failed == 0


@pytest.mark.parametrize("rule", catalogues().rules)
def test_every_rule_shows_what_it_takes_and_what_it_does_not(rule: str) -> None:
    module = importlib.import_module(f"app.decision.rules.{rule.replace('-', '_')}")
    outcomes = {example.want.split()[0] for example in run(module)[0] if example.want}
    can_refuse = "not_met(" in inspect.getsource(module)
    assert outcomes == {"met", "not-met" if can_refuse else "cannot-tell"}


def test_an_example_that_is_not_true_is_found() -> None:
    module = ModuleType("planted", ">>> asked(RULE, gloves(hand='left'))\nmet pair\n")
    module.__dict__["RULE"] = catalogues().rules["hands-belong-together"]
    with redirect_stdout(StringIO()) as report:
        _, result = run(module)
    assert result.failed == 1
    assert "not-met single" in report.getvalue()
