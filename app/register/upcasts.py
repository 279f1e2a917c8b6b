"""What a line of an older schema revision says in the columns of today: one step per revision, plain dict to dict.

A revision that renames, adds or drops a stored column adds its step here; a line is never rewritten.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

Content = dict[str, object]


def _record_to_2(content: Content) -> Content:
    renamed = {("notes" if key == "harmless" else key): value for key, value in content.items()}
    return renamed | ({"what": "inspection"} if content.get("what") == "look-over" else {})


#: revision -> (kind of line -> step to the next revision). Revision 1 is the first.
STEPS: Mapping[int, Mapping[str, Callable[[Content], Content]]] = {1: {"record": _record_to_2}}


def upcast(kind: str, revision: int, content: Content, to: int) -> Content:
    """The content of a line of `revision` as revision `to` would have written it."""
    for step in range(revision, to):
        turn = STEPS.get(step, {}).get(kind)
        if turn is not None:
            content = turn(content)
    return content
