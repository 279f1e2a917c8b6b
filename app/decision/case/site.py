"""Reading the site's rules."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.limits import SiteRules
from app.decision.fields import words
from app.decision.fields.field import reader_of
from app.decision.fields.reading import Reader, as_table, exact_day, some_of, text
from app.decision.fields.site import FIELDS

#: said of a site beside its rules
ABOUT: Mapping[str, Reader] = {"demo_day": exact_day, "timezone": text, "rule_sets": some_of(*words.RULE_SETS)}


_READ = reader_of(FIELDS, **ABOUT)


def read_site(value: object, place: str) -> SiteRules:
    """Site rules; what is not named stays as shipped."""
    read = _READ(as_table(value, place, "site"), place)
    for key in ABOUT:
        read.pop(key, None)
    return SiteRules(**read)
