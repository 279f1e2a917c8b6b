"""Declarations found by walking a folder: one constant in every module, no registering by hand.

A module without the constant, a constant of another type, or a key that stands twice stops the program at start-up;
an import error of a module is left to fly, because a rule that silently does not exist would issue kit.
"""

from __future__ import annotations

import importlib
import pkgutil
from typing import Protocol, TypeVar

from app.domain.errors import ProgramFault


class Keyed(Protocol):
    """Anything that is declared under a key."""

    @property
    def key(self) -> str:
        """The permanent kebab-case name."""
        ...


K = TypeVar("K", bound=Keyed)


def declared(package: str, name: str, kind: type[K]) -> dict[str, K]:
    """Every module of `package` declares one constant `name` of type `kind`; answer them by key, sorted.

    Raises ProgramFault naming the module for a missing constant, a wrong type or a repeated key.
    """
    found: dict[str, K] = {}
    folder = importlib.import_module(package)
    for info in sorted(pkgutil.iter_modules(folder.__path__), key=lambda module: module.name):
        if info.ispkg:
            continue
        module = importlib.import_module(f"{package}.{info.name}")
        constant = getattr(module, name, None)
        if not isinstance(constant, kind):
            raise ProgramFault("catalogue.constant-missing", thing=module.__name__, name=name)
        if constant.key in found:
            raise ProgramFault("catalogue.key-twice", thing=module.__name__, name=constant.key)
        found[constant.key] = constant
    return dict(sorted(found.items()))
