"""Which rule sets a drawn kit is judged by: groups a way may ask for by name, and the free draw."""

from __future__ import annotations

from random import Random
from typing import Final

Sets = tuple[str, ...]

OSHA, NFPA, TELECOM, WA = "us-osha-137", "us-nfpa-70e", "us-telecom-268", "us-wa-electrical"
IEC, EN, DGUV, AS_NZS = "iec-60903-2014", "en-60903-2003", "de-dguv", "as-nzs"
JP, GB = "jp-351", "gb-17622"

US: Final = (OSHA, NFPA, TELECOM, WA)
#: Gloves good for six months from the test whatever became of them since.
FROM_TEST: Final = (WA, EN, DGUV, JP, GB)

_ISSUE_CLOCK: Final[tuple[Sets, ...]] = ((NFPA,), (IEC,), (AS_NZS,), (OSHA, IEC), (NFPA, OSHA), (AS_NZS, OSHA))
_TEST_CLOCK: Final[tuple[Sets, ...]] = ((WA,), (EN,), (DGUV,), (OSHA, WA), (IEC, EN), (DGUV, EN), (OSHA, DGUV))
_US_ONLY: Final[tuple[Sets, ...]] = ((OSHA,), (OSHA,), (NFPA,), (WA,), (OSHA, WA), (NFPA, OSHA))
_IEC_ONLY: Final[tuple[Sets, ...]] = ((IEC,), (EN,), (DGUV,), (AS_NZS,), (IEC, EN))
_DEFAULT: Final[tuple[Sets, ...]] = ((OSHA,),)

#: Groups by name. "six": gloves tested in use are good for six months. "t1": class table T1 of the IEC family.
LAWS: Final[dict[str, tuple[Sets, ...]]] = {
    "osha": _DEFAULT,
    "issue-clock": _DEFAULT * 12 + _ISSUE_CLOCK,
    "test-clock": _TEST_CLOCK,
    "six": _DEFAULT * 40 + _ISSUE_CLOCK + _TEST_CLOCK,
    "us": _US_ONLY,
    "iec": _IEC_ONLY,
    "us-and-iec": ((OSHA, IEC), (NFPA, EN), (OSHA, DGUV), (AS_NZS, WA)),
    "t1": _DEFAULT * 40 + _ISSUE_CLOCK + _TEST_CLOCK + ((TELECOM,), (OSHA, TELECOM)),
    "goods-12": _DEFAULT * 4 + _ISSUE_CLOCK + ((EN,), (DGUV,), (IEC, EN)),
    "hose-free": _DEFAULT * 4 + _ISSUE_CLOCK + ((TELECOM,), (EN,), (DGUV,)),
    "mats": (*_IEC_ONLY, (OSHA, IEC)),
    "no-mats": ((OSHA,), (NFPA,), (WA,), (NFPA, OSHA)),
    "silent": ((NFPA,), (WA,), *_IEC_ONLY, (OSHA, IEC)),
    "not-en": ((OSHA,), (IEC,), (DGUV,), (AS_NZS,), (EN, IEC)),
    "telecom": ((TELECOM,),),
    "nfpa": ((NFPA,),),
    "wa": ((WA,),),
    "en": ((EN,),),
    "gb": ((GB,),),
    "jp": ((JP,),),
    "t1-and-gb": ((OSHA, GB), (IEC, GB)),
}

_FREE: Final = (*_ISSUE_CLOCK, *_TEST_CLOCK, (TELECOM,), (OSHA, TELECOM), (TELECOM,))
SHARE_OF_OTHERS: Final = 0.07
SHARE_OF_GB: Final = 0.15


def draw_sets(rng: Random, law: str | None, *, gb_fits: bool) -> Sets:
    """The sets of one kit: of the group asked for, else the default or, often enough, others that the kit can serve."""
    if law is not None:
        return rng.choice(LAWS[law])
    if gb_fits and rng.random() < SHARE_OF_GB:
        return (GB,)
    return rng.choice(_FREE) if rng.random() < SHARE_OF_OTHERS else (OSHA,)
