"""Under what standings were worked out, and a reason as it is kept beside one."""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import sha256
from typing import TYPE_CHECKING

import msgspec

from app import __version__
from app.decision.domain.electrical_test import Note
from app.decision.domain.limits import RuleSet, SiteRules
from app.decision.rulesets.house import HOUSE_POLICY
from app.register.canonical import canonical
from app.register.texts import RULES_DIGEST, asked

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection

# Statuses hold for one way of judging; a change of what lasts in a standing adds one here.
EDITION = 4


def rules_digest(site: SiteRules, rule_sets: Sequence[RuleSet]) -> str:
    """What standings were worked out under: sets, house policy, site rules and this program's way of doing it."""
    parts = [canonical(declared) for declared in (*rule_sets, HOUSE_POLICY, site)]
    return sha256("\n".join((str(EDITION), __version__, *parts)).encode()).hexdigest()


def noted(kept: str) -> Note:
    """A reason as it was kept."""
    key, values = msgspec.json.decode(kept)
    return Note(str(key), values)


def digest_kept(connection: Connection) -> str:
    """The digest the standings were worked out under; "" where none is kept."""
    rows = asked(connection, RULES_DIGEST)
    return str(rows[0][0]) if rows else ""
