"""Site rules looser than shipped: which they are, and whether house policy or a chosen set offers them at all."""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.errors import BadInput
from app.decision.domain.limits import HousePolicy, RuleSet, SiteRules

# A lower margin is a range and no value of a list: house policy offers 0 to 50 % per origin.
MARGIN = "margin_percent"
EXEMPTION = "dielectric_exempt_00_0"


def looser_rules(site: SiteRules, house: HousePolicy) -> tuple[str, ...]:
    """The site rules that are looser than shipped, by key."""
    looser = [key for key, shipped in house.shipped.items() if getattr(site, key) != shipped]
    if site.margin_bp is not None and any(site.margin_bp < margin for margin in house.margin_bp.values()):
        looser.append(MARGIN)
    return tuple(looser)


def unoffered_rules(site: SiteRules, house: HousePolicy, rule_sets: Iterable[RuleSet]) -> tuple[str, ...]:
    """The looser site rules that neither house policy nor any of these sets offers, by key."""
    sets = tuple(rule_sets)
    return tuple(
        key
        for key in looser_rules(site, house)
        if key != MARGIN and not _is_offered(key, getattr(site, key), house, sets)
    )


def hold_to_offers(site: SiteRules, house: HousePolicy, rule_sets: Iterable[RuleSet], file: str = "") -> None:
    """BadInput for the first site rule that is looser than shipped and not offered, or offered and without an approver.

    `file`: the depot file that sets them, "" where somebody sets one by itself.
    """
    sets = tuple(rule_sets)
    place = "site" if file else ""
    for key in unoffered_rules(site, house, sets):
        titles = tuple(rule_set.title for rule_set in sets)
        message = "site.looser-not-offered" if file else "rules.looser-not-offered"
        raise BadInput(message, file=file, place=place, thing=key, sets=titles)
    for key in looser_rules(site, house):
        # The exemption carries its approver in its value.
        if key != EXEMPTION and site.approver(key) is None:
            message = "site.looser-without-approver" if file else "rules.looser-without-approver"
            raise BadInput(message, file=file, place=place, thing=key)


def _is_offered(key: str, value: object, house: HousePolicy, rule_sets: tuple[RuleSet, ...]) -> bool:
    if key == EXEMPTION:
        return any(key in rule_set.offers for rule_set in rule_sets)
    return value in house.offers.get(key, ()) or any(rule_set.allows(key, value) for rule_set in rule_sets)
