"""What a kind of kit and a task are declared with; the declarations themselves stand in `kinds` and `tasks`."""

from __future__ import annotations

from msgspec import Struct


class Kind(Struct, frozen=True):
    """One kind of kit.

    `role`: what it can be in a task, None for parts of another role. `fields`: keys of a piece that make sense for
    it beside those of every kind. `names`: what sheets call it, bars between. `is_classed`: insulating goods with
    a class, judged by a rule set and by nobody else. `is_instrument` heads a measurement chain, `is_chain_part` joins
    one, `has_caps` says whether tip caps exist on it. `wants_dc_test`: never on DC without a record of a test with DC.
    `has_own_protection`: brings the mechanical protection a protector gives. `is_detector`: made to prove dead.
    """

    key: str
    role: str | None
    fields: frozenset[str]
    names: str = ""
    is_classed: bool = False
    is_worn_on_hands: bool = False
    is_instrument: bool = False
    is_chain_part: bool = False
    has_caps: bool = False
    has_self_test: bool = False
    wants_air_test: bool = False
    wants_dc_test: bool = False
    has_own_protection: bool = False
    is_detector: bool = False


class Task(Struct, frozen=True):
    """One task: the roles it needs, one each, the scope of authorisation, and whether a second person is there.

    `second_person`: "required" (with own gloves and protectors), or the site rule that decides.
    """

    key: str
    roles: tuple[str, ...]
    scope: str
    second_person: str
    proves_dead: bool = False
    second_has_own_gloves: bool = False
