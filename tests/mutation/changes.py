"""What is changed in a module's source, one small thing at a time: the places, found in the syntax tree.

Strings, annotations, docstrings, decorators, assertions (they tell the type checker something) and `__all__` are left
as they are.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from typing import NamedTuple

Put = Callable[[ast.AST], None]

_COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
_RECKONED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.FloorDiv, ast.FloorDiv: ast.Mult, ast.Div: ast.Mult,
    ast.Mod: ast.FloorDiv,
}  # fmt: skip
_NAMED = {"min": "max", "max": "min", "any": "all", "all": "any"}
_ASIDE = ("annotation", "returns", "decorator_list", "type_params", "bases")
# What a function may answer when it has nothing to say, by how its annotation begins.
_EMPTY = {
    "list[": "[]", "Iterable[": "[]", "Iterator[": "iter(())", "Sequence[": "()", "Collection[": "()",
    "dict[": "{}", "Mapping[": "{}", "frozenset[": "frozenset()", "set[": "set()", "AbstractSet[": "frozenset()",
}  # fmt: skip
_WORDLESS = (ast.Constant, ast.JoinedStr, ast.List, ast.Tuple, ast.ListComp)


class Change(NamedTuple):
    """One place and what is done there; `make` changes the tree the place was found in."""

    line: int
    column: int
    what: str
    make: Callable[[], None]


def changes_of(tree: ast.Module, *, with_figures: bool = True) -> list[Change]:
    """Every change of a tree, in the order of the source; `with_figures`: integers are moved by one as well."""
    found = list(_within(tree, "", with_figures=with_figures))
    return sorted(found, key=lambda one: (one.line, one.column))


def changed(source: str, number: int, *, with_figures: bool = True) -> str:
    """The source with the change of that number made; IndexError where there is none."""
    tree = ast.parse(source)
    changes_of(tree, with_figures=with_figures)[number].make()
    return ast.unparse(ast.fix_missing_locations(tree))


def _within(node: ast.AST, gives: str, *, with_figures: bool) -> Iterator[Change]:
    """Changes of everything below a node; `gives`: the annotation of what the function around it returns."""
    for name, child, put in _children(node):
        if _is_aside(node, name, child):
            continue
        inner = ast.unparse(child.returns) if isinstance(child, ast.FunctionDef) and child.returns else gives
        for change in _of(node, name, child, put, inner):
            if with_figures or not change.what.startswith("figure"):
                yield change
        yield from _within(child, inner, with_figures=with_figures)


def _children(node: ast.AST) -> Iterator[tuple[str, ast.AST, Put]]:
    for name, value in ast.iter_fields(node):
        if isinstance(value, ast.AST):
            yield name, value, lambda new, name=name: setattr(node, name, new)  # type: ignore[misc]
        elif isinstance(value, list):
            for place, one in enumerate(value):
                if isinstance(one, ast.AST):
                    yield name, one, lambda new, value=value, place=place: value.__setitem__(place, new)  # type: ignore[misc]


def _is_aside(parent: ast.AST, name: str, child: ast.AST) -> bool:
    if name in _ASIDE or isinstance(child, ast.Assert | ast.Import | ast.ImportFrom):
        return True
    if isinstance(parent, ast.ClassDef) and name == "keywords":
        return True
    if isinstance(child, ast.Expr):
        return isinstance(child.value, ast.Constant)
    if isinstance(child, ast.Assign):
        return any(isinstance(one, ast.Name) and one.id == "__all__" for one in child.targets)
    if isinstance(child, ast.If):
        return ast.unparse(child.test) == "TYPE_CHECKING"
    if isinstance(child, ast.Subscript):
        return ast.unparse(child.value) == "Literal"
    return isinstance(child, ast.Call) and ast.unparse(child.func) in ("TypeVar", "cast")


def _of(parent: ast.AST, name: str, node: ast.AST, put: Put, gives: str) -> Iterator[Change]:
    """Changes of this one node."""
    if name in ("test", "ifs") and isinstance(node, ast.expr) and not isinstance(node, ast.Constant):
        for answer in (True, False):
            yield _change(node, f"condition `{ast.unparse(node)}` becomes {answer}", put, ast.Constant(answer))
    if isinstance(node, ast.Compare):
        yield from _compared(node)
    elif isinstance(node, ast.BoolOp):
        yield _operator(node, ast.Or() if isinstance(node.op, ast.And) else ast.And())
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield _change(node, f"`{ast.unparse(node)}` loses its not", put, node.operand)
    elif isinstance(node, ast.BinOp | ast.AugAssign):
        yield from _reckoned(node)
    elif isinstance(node, ast.Constant) and type(node.value) is int:
        for value in (node.value + 1, node.value - 1):
            yield _change(node, f"figure {node.value} becomes {value}", put, ast.Constant(value))
    elif isinstance(node, ast.Name) and node.id in _NAMED and isinstance(node.ctx, ast.Load):
        yield _change(node, f"{node.id} becomes {_NAMED[node.id]}", put, ast.Name(_NAMED[node.id], ast.Load()))
    elif isinstance(node, ast.Tuple | ast.List | ast.Set):
        yield from _words(node)
    elif isinstance(node, ast.Return) and node.value is not None:
        yield from _returned(node, gives)
    elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Yield | ast.YieldFrom):
        nothing = ast.Expr(ast.YieldFrom(ast.Tuple([], ast.Load())))
        yield _change(node, f"`{_short(node)}` is not yielded", put, nothing)


def _compared(node: ast.Compare) -> Iterator[Change]:
    for place, operator in enumerate(node.ops):
        new = _COMPARED[type(operator)]()

        def make(place: int = place, new: ast.cmpop = new) -> None:
            node.ops[place] = new

        what = f"in `{_short(node)}` {_sign(operator)} becomes {_sign(new)}"
        yield Change(node.lineno, node.col_offset, what, make)


def _operator(node: ast.BoolOp, new: ast.boolop) -> Change:
    def make() -> None:
        node.op = new

    what = f"in `{_short(node)}` {type(node.op).__name__.lower()} becomes {type(new).__name__.lower()}"
    return Change(node.lineno, node.col_offset, what, make)


def _reckoned(node: ast.BinOp | ast.AugAssign) -> Iterator[Change]:
    sides = (node.left, node.right) if isinstance(node, ast.BinOp) else (node.value,)
    if type(node.op) not in _RECKONED or any(isinstance(one, _WORDLESS) and not _is_int(one) for one in sides):
        return
    new = _RECKONED[type(node.op)]()

    def make() -> None:
        node.op = new

    what = f"in `{_short(node)}` {type(node.op).__name__} becomes {type(new).__name__}"
    yield Change(node.lineno, node.col_offset, what, make)


def _words(node: ast.Tuple | ast.List | ast.Set) -> Iterator[Change]:
    """Each word of a literal that holds words, and lists of words unpacked into it, is taken out once."""
    if len(node.elts) < 2 or not all(_is_word(one) or isinstance(one, ast.Starred) for one in node.elts):
        return
    for place, element in enumerate(node.elts):

        def make(place: int = place) -> None:
            del node.elts[place]

        yield Change(element.lineno, element.col_offset, f"{ast.unparse(element)} is taken out of its list", make)


def _returned(node: ast.Return, gives: str) -> Iterator[Change]:
    assert node.value is not None
    kept = ast.unparse(node.value)
    empty = next((value for start, value in _EMPTY.items() if gives.startswith(start)), "")
    if gives.startswith("tuple[") and gives.endswith(", ...]"):
        empty = "()"
    others = ["None"] if gives.endswith("| None") else []
    for value in (*([empty] if empty else []), *others):
        if value != kept:
            new = ast.Return(ast.parse(value, mode="eval").body)
            yield _change(node, f"`{_short(node)}` returns {value}", lambda new=new: setattr(node, "value", new.value))


def _change(node: ast.AST, what: str, put: Callable[..., None], new: ast.AST | None = None) -> Change:
    make = put if new is None else lambda: put(new)
    return Change(getattr(node, "lineno", 0), getattr(node, "col_offset", 0), what, make)


def _is_int(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and type(node.value) is int


def _is_word(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _sign(operator: ast.cmpop) -> str:
    return ast.unparse(ast.Compare(ast.Name("a"), [operator], [ast.Name("b")]))[2:-2]


def _short(node: ast.AST) -> str:
    text = ast.unparse(node)
    return text if len(text) <= 70 else f"{text[:67]}..."
