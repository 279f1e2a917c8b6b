"""Which sentences a rule can say, and with which outcome: read from its own source, so that none is forgotten."""

from __future__ import annotations

import ast
import re
import string
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct

from app.decision.domain.finding import Outcome
from app.words.saying import say, sentences
from docs.generator.page_words import PLACE_FORMS, PLACE_WORDS, SUBJECT_WORDS

_OUTCOMES = {
    "met": Outcome.MET, "met_until": Outcome.MET, "not_met": Outcome.NOT_MET, "cannot_tell": Outcome.CANNOT_TELL,
    "caution": Outcome.CAUTION,
}  # fmt: skip
# What a demand says in words of its own.
_OWN_WORDS = {
    "not_in_print": "limit-not-seen-in-print", "voltage_unknown": "stands.voltage-unknown",
    "by_stress": "stands.voltage-unknown",
}  # fmt: skip
# Rules that hand on what a module of the domain found, by a key they do not spell out themselves.
HANDED_ON = {
    "electrical-test-counts": "app.decision.domain.electrical_test",
    "chain-complete": "app.decision.domain.facts",
}
_CARRIERS = ("Note", "Chains")
# How a rule reaches the figures of house policy.
_LIMITS = ("facts", "house", "limits")
_VALUE = ("facts", "house", "value")
Keys = dict[str, frozenset[Outcome]]


class Source(Struct, frozen=True):
    """Source texts a rule's sentences are found in.

    `judge`: of what runs the rules and says a sentence in a rule's name. `handed_on`: of the module whose sentences
    the rule hands on, "" where it spells all of them out.
    """

    rule: str
    judge: str
    handed_on: str = ""


def outcomes(rule: str, source: Source) -> Keys:
    """Sentence key -> the outcomes it is said with, in the order of the source."""
    found: dict[str, set[Outcome]] = {}
    for key, outcome in _said(ast.parse(source.rule), _carried(source.handed_on)):
        found.setdefault(key, set()).update(outcome)
    for key, outcome in _in_its_name(rule, ast.parse(source.judge)):
        found.setdefault(key, set()).update(outcome)
    return {key: frozenset(outcome) for key, outcome in found.items()}


def _in_its_name(rule: str, tree: ast.Module) -> Iterator[tuple[str, frozenset[Outcome]]]:
    """What is said under a rule's key outside its own module: Demand("<rule>", ...).cannot_tell("<key>")."""
    for call in ast.walk(tree):
        if not isinstance(call, ast.Call) or not isinstance(call.func, ast.Attribute):
            continue
        demand = call.func.value
        if isinstance(demand, ast.Call) and rule in (word for one in demand.args[:1] for word in _keys(one, {}, ())):
            yield from ((key, _outcome(call.func, {})) for one in call.args[:1] for key in _keys(one, {}, ()))


def _carried(source: str) -> tuple[str, ...]:
    """Keys of sentences a module of the domain carries to whoever says them."""
    return tuple(
        word
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _CARRIERS
        for argument in node.args
        for word in _keys(argument, {}, ())
        if word in sentences()
    )


def _said(tree: ast.Module, handed_on: Iterable[str]) -> Iterator[tuple[str, frozenset[Outcome]]]:
    names = {
        node.targets[0].id: node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name)
    }
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call) and node.args]
    for call in sorted(calls, key=lambda node: (node.lineno, node.col_offset)):
        outcome = _outcome(call.func, names)
        if isinstance(call.func, ast.Attribute) and call.func.attr in _OWN_WORDS:
            yield _OWN_WORDS[call.func.attr], frozenset({Outcome.CANNOT_TELL})
        elif outcome:
            yield from ((key, outcome) for key in _keys(call.args[0], names, handed_on))


def _outcome(node: ast.expr, names: Mapping[str, ast.expr]) -> frozenset[Outcome]:
    if isinstance(node, ast.Attribute) and node.attr in _OUTCOMES:
        return frozenset({_OUTCOMES[node.attr]})
    if isinstance(node, ast.IfExp):
        return _outcome(node.body, names) | _outcome(node.orelse, names)
    if isinstance(node, ast.Name) and node.id in names:
        return _outcome(names[node.id], {})
    return frozenset()


def _keys(node: ast.expr, names: Mapping[str, ast.expr], handed_on: Iterable[str]) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from _keys(node.body, names, handed_on)
        yield from _keys(node.orelse, names, handed_on)
    elif isinstance(node, ast.Name) and node.id in names:
        yield from _keys(names[node.id], {}, handed_on)
    elif isinstance(node, ast.JoinedStr):
        shape = re.compile(_shape(node).replace(r"\*", "[^.-]*"))
        yield from (key for key in sentences() if shape.fullmatch(key))
    else:
        yield from handed_on


def _shape(node: ast.JoinedStr) -> str:
    """The text of an f-string, escaped for a pattern, with a star in each place."""
    return re.escape("".join(str(one.value) if isinstance(one, ast.Constant) else "*" for one in node.values))


def house_keys(source: Source) -> tuple[str, ...]:
    """Keys of house figures a rule names, with a star where it puts them together."""
    found: list[str] = []
    for node in ast.walk(ast.parse(source.rule)):
        inside: Iterable[ast.expr] = ()
        if isinstance(node, ast.Call) and _path(node.func) in (_VALUE, (*_LIMITS, "get")):
            inside = node.args[:1]
        elif isinstance(node, ast.Subscript) and _path(node.value) == _LIMITS:
            inside = (node.slice,)
        found += [key for one in inside for key in _house_key(one)]
    return tuple(dict.fromkeys(found))


def _path(node: ast.expr) -> tuple[str, ...]:
    """a.b.c as ("a", "b", "c"); () for anything else."""
    if isinstance(node, ast.Name):
        return (node.id,)
    inner = _path(node.value) if isinstance(node, ast.Attribute) else ()
    return (*inner, node.attr) if isinstance(node, ast.Attribute) and inner else ()


def _house_key(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.IfExp):
        yield from _house_key(node.body)
        yield from _house_key(node.orelse)
    elif isinstance(node, ast.Constant):
        yield str(node.value)
    elif isinstance(node, ast.JoinedStr):
        yield "".join(str(one.value) if isinstance(one, ast.Constant) else "*" for one in node.values)


def shown(key: str, rule: str) -> str:
    """A sentence with words in brackets where the piece, the figure or the day will stand.

    >>> shown("inspected.done", "inspected")
    '[piece] was inspected today.'
    """
    words = {**PLACE_WORDS, "subject": SUBJECT_WORDS.get(rule, PLACE_WORDS["subject"])}
    parts: list[str] = []
    for text, name, form, _ in string.Formatter().parse(sentences()[key]):
        parts.append(text)
        if name is not None:
            inside = PLACE_FORMS.get(form or "", "{0}").format(_place(words[name], name, form or ""))
            parts.append(say("pages.rule.placeholder", {"words": inside}))
    return "".join(parts)


def _place(words: str, name: str, form: str) -> str:
    """What is measured may be a day."""
    return PLACE_WORDS["day"] if form == "day" and name in ("measured", "required") else words
