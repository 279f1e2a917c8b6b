"""Declarations found by walking a folder: one constant in every module, no registering by hand.

A module without the constant, a constant of another type, or a key that stands twice stops the program at start-up;
an import error of a module is left to fly, because a rule that silently does not exist would issue kit.
"""

from __future__ import annotations

import importlib
import importlib.util
import pkgutil
from typing import Protocol, TypeVar

from app.decision.domain.errors import ProgramFault


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
    declarations: dict[str, K] = {}
    for module in _modules(package):
        constant = _constant(f"{package}.{module}", name, kind)
        if constant.key in declarations:
            raise ProgramFault("catalogue.key-twice", thing=f"{package}.{module}", name=constant.key)
        declarations[constant.key] = constant
    return dict(sorted(declarations.items()))


def declared_under(package: str, key: str, name: str, kind: type[K]) -> K | None:
    """The declaration of one key, by the module that is named after it, and no other read; None where there is none."""
    module = key.replace("-", "_")
    # Looked for by its name: listing the folder for each key would cost a start more than reading it.
    spec = importlib.util.find_spec(f"{package}.{module}") if module.isidentifier() else None
    if spec is None or spec.submodule_search_locations is not None:
        return None
    constant = _constant(f"{package}.{module}", name, kind)
    return constant if constant.key == key else None


def _modules(package: str) -> list[str]:
    folder = importlib.import_module(package)
    return sorted(info.name for info in pkgutil.iter_modules(folder.__path__) if not info.ispkg)


def _constant(module: str, name: str, kind: type[K]) -> K:
    constant = getattr(importlib.import_module(module), name, None)
    if not isinstance(constant, kind):
        raise ProgramFault("catalogue.constant-missing", thing=module, name=name)
    return constant
