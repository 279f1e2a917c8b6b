"""The fields of a piece, each declared once, in the order a form asks them.

From here come the reader of worked cases and its inverse, the columns of sheets and of the register, forms and cards.
"""

from __future__ import annotations

from app.decision.fields import words
from app.decision.fields.field import Field, named
from app.decision.fields.sorts import (
    AMPERES,
    CALORIES,
    COUNT,
    DAY,
    DAY_OR_MONTH,
    FIRST_ISSUE,
    FUSE,
    LENGTH,
    MARKS,
    METRES,
    MONTHS,
    SIZE,
    TEXT,
    VOLTAGE_MARK,
    VOLTS,
    YES_NO,
    choice,
    some,
)

FIELDS = named(
    (
        Field(key="code", sort=TEXT),
        Field(key="kind", table="kind", sort=TEXT),
        Field(key="label", sort=TEXT),
        Field(key="serial", sort=TEXT, is_offered=False),
        Field(key="model", sort=TEXT, is_offered=False),
        Field(
            key="class",
            sort=choice(*words.CLASSES),
            attribute="insulation_class",
            headings="""
    class | insulation class | glove class | voltage class | cl | astm class | iec class | class no | rubber class |
    insulating class""",
        ),
        Field(
            key="class_system",
            table="system",
            sort=choice(*words.CLASS_SYSTEMS),
            headings="""
    class system | standard | norm | made to | standard no | marked to | mark standard""",
        ),
        Field(
            key="type",
            sort=choice("I", "II"),
            headings="rubber type | glove type | ozone type | type i ii | type i or ii | astm type",
        ),
        Field(key="hand", table="hand", sort=choice("pair", "left", "right")),
        Field(
            key="size",
            sort=SIZE,
            asked=2,
            headings="size | glove size | hand size | palm | palm size | palm girth | boot size",
        ),
        Field(key="length_mm", sort=LENGTH, headings="length | glove length | cuff length | overall length"),
        Field(key="categories", table="property", sort=some("A", "H", "Z", "R", "C")),
        Field(key="dc_tested", sort=YES_NO, headings="dc tested | dc test | tested for dc | dc tested y n"),
        Field(
            key="material",
            table="material",
            sort=choice("natural", "synthetic"),
            words="""
natural: natural | natural rubber | latex | natural latex | nr
synthetic: synthetic | synthetic rubber | epdm | neoprene
""",
            headings="material | rubber | rubber material | compound",
        ),
        Field(key="marked_until", sort=DAY, is_offered=False),
        Field(
            key="cut_for_class",
            sort=choice(*words.CLASSES),
            headings="""
    cut for class | for class | for glove class | protector class | fits class | cut for | protector for class""",
        ),
        Field(
            key="leather",
            sort=TEXT,
            words="""
goat: goat | goatskin
cow: cow | cowhide
deer: deer | deerskin
pig: pig | pigskin
horse: horse | horsehide
sheep: sheep | sheepskin | cape
""",
            headings="leather | hide | leather type | leather kind",
        ),
        Field(key="leather_mm", sort=LENGTH, asked=2, headings="leather thickness | thickness | leather mm"),
        Field(
            key="arc_rating_cal",
            sort=CALORIES,
            asked=2,
            headings="""
    arc rating cal cm2 | arc rating cal cm | cal cm2 | arc rating | atpv | cal rating | arc rating cal | cal |
    calories""",
        ),
        Field(
            key="window_rating_cal", sort=CALORIES, asked=2, headings="window rating | window arc rating | lens rating"
        ),
        Field(key="fabric_rating_cal", sort=CALORIES, asked=2, headings="fabric rating | fabric arc rating"),
        Field(key="hood", sort=YES_NO, headings="hood | with hood"),
        Field(key="balaclava", sort=YES_NO, headings="balaclava | with balaclava"),
        Field(key="expires_on", sort=DAY, is_offered=False),
        Field(key="inspect_months", sort=MONTHS, is_offered=False),
        Field(key="laundered", sort=COUNT, is_offered=False),
        Field(
            key="voltage_mark",
            sort=VOLTAGE_MARK,
            headings="""
    voltage | voltage mark | marked voltage | max use voltage | maximum use voltage | rated voltage | voltage rating
    | volts | max voltage | maximum voltage | working voltage | voltage marking | use voltage | max use""",
        ),
        Field(
            key="marks",
            sort=MARKS,
            headings="""
    category marking | cat marking | cat rating | measurement category | cat mark | category mark | meter category |
    overvoltage category | cat and volts | marked cat | cat rating cap on | mark with cap | marks | cat iii | cat no
    | measuring category | category rating | cat volts""",
        ),
        Field(
            key="marks_cap_off",
            sort=MARKS,
            headings="""
    marking without caps | marking without cap | cat marking without caps | cat rating cap off | mark cap off |
    marks cap off | cap off rating | cat without cap | cap off | mark without cap""",
        ),
        Field(
            key="caps",
            table="caps",
            sort=choice("present", "missing", "unknown"),
            words="""
present: present | yes | y | fitted | on | both | \u2713 | 2
missing: missing | no | n | none | lost | off | one missing | \u2717 | 0 | 1
unknown: unknown
""",
            headings="caps | tip caps | cap | tip cap | caps present | caps fitted | probe caps",
        ),
        Field(
            key="fixed_leads",
            sort=YES_NO,
            headings="fixed leads | leads fixed | attached leads | captive leads | leads attached",
        ),
        Field(
            key="tip_mm",
            sort=LENGTH,
            asked=1,
            headings="tip | tip length | exposed tip | tip exposed | bare tip | exposed metal",
        ),
        Field(key="capped_tip_mm", sort=LENGTH, is_offered=False),
        Field(
            key="current_a",
            sort=AMPERES,
            asked=3,
            headings="""
    max a | max amps | current | rated current | max current | amps | lead current | current rating""",
        ),
        Field(
            key="max_input_ac_v",
            sort=VOLTS,
            headings="max input ac | maximum input ac | input ac | max input voltage ac",
        ),
        Field(
            key="max_input_dc_v",
            sort=VOLTS,
            headings="max input dc | maximum input dc | input dc | max input voltage dc",
        ),
        Field(key="fuse", sort=FUSE, headings="fuse | fuse rating | fuses | fused"),
        Field(
            key="threshold_ac_v",
            sort=VOLTS,
            asked=1,
            headings="""
    shows from v ac | shows from ac | indicates from v ac | threshold ac | ac threshold | indicates from ac | own
    threshold ac""",
        ),
        Field(
            key="threshold_dc_v",
            sort=VOLTS,
            asked=1,
            headings="""
    shows from v dc | shows from dc | indicates from v dc | threshold dc | dc threshold | indicates from dc | own
    threshold dc""",
        ),
        Field(key="output_ac_v", sort=VOLTS, asked=1, headings="output ac | ac output | output voltage ac"),
        Field(key="output_dc_v", sort=VOLTS, asked=1, headings="output dc | dc output | output voltage dc"),
        Field(key="max_altitude_m", sort=METRES, headings="altitude | max altitude | maximum altitude"),
        Field(key="secures", sort=COUNT, is_offered=False),
        Field(
            key="maker_interval_months",
            sort=MONTHS,
            headings="""
    maker interval | makers interval | maker test interval | manufacturer interval | test interval maker""",
        ),
        Field(
            key="batch",
            sort=TEXT,
            headings="""
    batch | batch no | batch number | batch code | lot | lot no | lot number | maker batch | makers batch""",
        ),
        Field(key="made_on", sort=DAY_OR_MONTH, is_offered=False),
        Field(key="end_of_life", sort=DAY, is_offered=False),
        Field(key="owner_until", sort=DAY, is_offered=False),
        Field(
            key="first_issue",
            sort=FIRST_ISSUE,
            headings="""
    first issue | first issued | in service since | first issue date | in service | in service date | in service
    from | issued first | date first issued | date in service | service since | put in service | put into service |
    first used | first use | in use since | date into service | first hand over | placed in service | service date |
    issue date first | date of first issue | date of first use""",
        ),
        Field(key="custody", sort=TEXT),
        Field(key="lost", sort=YES_NO, attribute="is_lost"),
    )
)
#: of every kind
OF_ALL = frozenset({"label", "serial", "model", "batch", "made_on", "end_of_life", "owner_until"})
RUBBER = frozenset(
    {"class", "class_system", "type", "categories", "dc_tested", "material", "first_issue", "maker_interval_months"}
)
GLOVES = RUBBER | {"length_mm", "size", "hand", "marked_until"}
LEADS = frozenset({"marks", "marks_cap_off", "current_a", "tip_mm", "capped_tip_mm", "caps", "fuse", "max_altitude_m"})
INSTRUMENT = LEADS | {
    "fixed_leads", "max_input_ac_v", "max_input_dc_v", "threshold_ac_v", "threshold_dc_v", "maker_interval_months",
}  # fmt: skip
