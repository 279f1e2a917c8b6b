"""What stands on the shelves of the invented Quarry Lane Depot, kind by kind.

Every table is a heading line and one line per piece, fields parted by ``|``; an empty field is a
fact nobody wrote down. Days are ISO here; ``make_shelf.py`` writes them in a keeper's mixed ways.
``2025-03`` is a month and ``2025-W10`` a week. The wrong rows and the doubled code are wanted:
see README.md beside this file. Lengths mm, leather and tips mm, volts, amperes, cal/cm2.
"""

from __future__ import annotations

# Evidence: figures (all of the test's figures), stated (laboratory and certificate), bare (a day).
# The second G017 is the doubled code; G044 and G045 are wrong rows.
GLOVES = """
code|crib|class|standard|type|letters|length|size|first|test|evidence|lab|dc
G002|W|0|EN 60903|I|R C|360|9,5|2025-05-19|2025-11-24|figures|N|yes
G003|W|0|EN 60903|I|R C|360|8,5|2025-06-02|2025-12-08|figures|N|yes
G004|W|00|EN 60903|I|R|280|9|2025-02-03|2025-09-29|stated|N|no
G006|W|00|IEC 60903|I||360|8,5||2025-10-20|stated|T|
G007|W|00|ASTM D120|II||280|9,5|new|2025-07-14|stated|F|
G008|W|00|EN 60903|I|R|360|11|2024-06-03|2025-03|bare||
G009|W|00|EN 60903|I||280|10,5|2024-09-02|2025-W10|bare||
G010|W|00|EN 60903|I||280|9|2024-05-06|2025-12-01|bare||
G011|W|00|IEC 60903|I|A H Z|360|10|2025-11-10|2025-10-13|stated|F|no
G014|W|0|EN 60903|I|R C|360|9|2024-04-15|2026-02-09|figures|F|yes
G015|W|0|EN 60903|I|R C|360|10|2024-04-15|2025-09-15|figures|N|yes
G016|W|0|ASTM D120|II||410|10,5|2025-01-20|2025-08-31|figures|F|no
G017|W|0|EN 60903|I|R|360|11|2024-10-01|2025-12-15|stated|N|yes
G017|W|0|EN 60903|I|R|360|8|2025-03-17|2025-11-03|stated|N|yes
G018|W|0|EN 60903|I||280|9||2025-11-17|bare||
G019|W|0|EN 60903|I|R C|360|9,5|never|2025-05-12|stated|F|yes
G020|W|0|EN 60903|I|R|410|10|2025-03-24|2026-02-16|figures|N|yes
G021|W|0|EN 60903|I|R C|360|10,5|2024-11-04|2025-12-01|figures|N|yes
G022|W|0|IEC 60903|I|R|360|9|2024-03-11|2025-05-05|stated|N|no
G023|W|0|EN 60903|I|R C|360|8|2025-01-13|2025-12-22|stated|F|yes
G024|W|0|EN 60903|I|R C|360|11|2025-02-17|2025-10-27|stated|N|yes
G025|W|0|EN 60903|I|R C|360|9|2025-09-22|2025-12-04|figures|N|yes
G033|W|1|ASTM D120|II||360|9|2025-02-24|2025-11-10|figures|F|no
G034|W|1|ASTM D120|II||410|10|new|2025-11-10|stated|F|no
G035|W|1|EN 60903|I|R|360|11|unknown|2025-11|stated|N|no
G044|W|0|EN 60903|I|R C|360|10|2024-07-01|2026-09-14|stated|N|yes
G001|B|0|EN 60903|II|R C|360|10|2025-04-07|2026-01-12|figures|N|yes
G005|B|00|EN 60903|I|R|280|10|2025-03-10|2025-08-18|stated|N|no
G012|B|00|EN 60903|I|R|280|10||2025-08-25|stated|N|no
G013|B|00|ASTM D120|II||360|8|never|2025-02-10|stated|F|no
G026|B|0|EN 60903|II|R C|360|10|2025-04-07|2025-09-22|figures|N|yes
G027|B|0|EN 60903|I|R|360|9|2024-08-12|2025-08-11|stated|F|yes
G028|B|0|EN 60903|I|R|410|11|2025-10-06|2025-03-17|stated|N|yes
G029|B|0|EN 60903|I|R C|360|8|2025-06-16|2025-05-26|figures|N|yes
G030|B|0|EN 60903|I|R C|460|12|never|2025-12-08|figures|F|yes
G031|B|0|EN 60903|I||360|9,5|not known|2025-07-28|bare||
G032|B|0|EN 60903|II|R C|360|10,5|2024-09-09|2025-09-02|figures|N|yes
G036|B|1|ASTM D120|II||410|9,5|2025-07-07|2025-09-08|stated|F|no
G037|B|1|ASTM D120|II||410|10,5|2025-03-03|2025-08-25|stated|F|no
G038|B|1|EN 60903|I|R|460|10|new||||
G039|B|1|EN 60903|I|R|360|8,5|2024-10-21|2025-W44|stated|N|no
G040|B|1|EN 60903|I|R|460|12|2025-09-15|2025-08-04|stated|N|no
G041|B|2|ASTM D120|I||410|10|2025-01-27|2025-10-13|figures|F|no
G042|B|2|ASTM D120|I||460|11|never|2025-10-13|stated|F|no
G043|B|2|ASTM D120|I||410|9|unknown|2025-06-30|bare||
G045|B|4|ASTM D120|I||280|10|2025-04-28|2025-10-20|stated|F|no
"""

# P012 is thinner than its class asks and P018 leaves too little bare cuff: no slips of the pen,
# but sheet entries which a decision has to catch.
PROTECTORS = """
code|crib|cut|length|size|thick|leather|look
P002|W|0|290|9,5|0,9|goat|2026-01-19
P003|W|0|280|8,5|0,9|goat|2026-01-19
P005|W|00|230|9|0,7|goat|2025-11-03
P006|W|00|230|10|0,6|goat|2025-11-03
P007|W|00|290|8,5|0,7|sheep|2025-09
P008|W|0|290|9|0,9|goat|2025-12-15
P009|W|0|290|10|1,0|cow|2025-12-15
P010|W|0|330|10,5|1,0|cow|2025-10-13
P011|W|0|290|11|1,1|cow|2025-10-13
P012|W|0|290|9,5|0,5|sheep|2025-08-18
P013|W|1|280|9|1,2|cow|2025-11-24
P014|W|1|330|10|1,3|cow|2025-11-24
P001|B|0|290|10|0,9|goat|2026-02-02
P004|B|00|230|10|0,7|goat|2025-12-08
P015|B|0|290|8|0,8|goat|2025-12-08
P016|B|0|290|9|0,9|goat|2025-12-08
P017|B|0|290|10,5|0,9|goat|2026-02-02
P018|B|0|340|11|1,0|cow|2025-07-21
P019|B|0|370|12|1,1|cow|2025-12-08
P020|B|1|330|9,5|1,2|pig|2025-10-27
P021|B|1|330|10,5|1,3|pig|2025-10-27
P022|B|1|380|12|1,4|cow|2025-10-27
P023|B|2|330|10|1,4|cow|2025-09-22
P024|B|2|380|11|1,5|cow|2025-09-22
"""

MULTIMETERS = """
code|crib|marks|input_ac|input_dc|amps|fuse_v|fuse_ac|fuse_kind|altitude|calibrated|look
N001|B|CAT III 1000V/CAT IV 600V|1000|1000|10|1000|no|HBC|2000|2025-09-15|2026-01-12
N002|W|CAT III 1000V/CAT IV 600V|1000|1000|10|1000|no|HBC|2000|2025-10-06|2026-01-12
N003|W|CAT III 1000 V / CAT IV 600 V|1000|1000|10|1000|no|HBC|2000|2025-06|2025-12-01
N004|W|CAT III 600 V|600|600|10|600|yes|HBC|2000|2025-02-10|2025-06-16
N005|B|CAT IV 1000 V|1000|1500|10|1500|no|HBC|3000|2025-11-17|2026-01-12
N006|B|CAT II 1000 V, CAT III 600 V|1000|1000|10|250|no|glass|2000|2025-04-28|2025-05-12
"""

# D004 states no maximum AC input, D005 lights a lamp from 120 V DC and has no number, and the mark
# of D007 has worn off.
DETECTORS = """
code|crib|marks|fixed|input_ac|input_dc|tip|caps|altitude|shows_dc|shows_ac|look
D001|B|CAT III 1000V/CAT IV 600V|yes|1000|1500|2|present|2000|12|12|2026-02-02
D002|W|CAT III 1000V/CAT IV 600V|yes|1000|1500|2|present|2000|12|12|2026-01-19
D003|B|CAT III 1000 V / CAT IV 600 V|yes|1000|1500|4|present|2000|12|12|2026-02-02
D004|W|CAT IV 1000 V|yes||1500|4|present|3000|6|6|2026-01-19
D005|W|CAT III 1000 V|yes|1000|1500|4|present|2000|120|50|2025-10-20
D006|B|CAT III 690 V|yes|690|750|4|missing|2000|12|12|2025-11-03
D007|W||yes|690|750|4|present|2000|12|12|2025-08-25
"""

# L012 is a wrong row.
LEADS = """
code|crib|marks|marks_off|amps|tip|caps|fuse_v|fuse_ac|fuse_kind|look
L001|W|CAT III 1000V/CAT IV 600V|CAT II 1000 V|10|4|present||||2026-01-12
L002|W|CAT III 1000 V / CAT IV 600 V|CAT II 1000 V|10|4|present||||2026-01-12
L003|W|CAT IV 1000 V||0,5|2|present|1000|no|HBC|2025-12-01
L004|B|CAT III 600 V|CAT II 600 V|10|4|present||||2026-01-12
L005|B|CAT III 1000V/CAT IV 600V|CAT II 1000 V|10|4|present||||2026-01-12
L006|B|CAT III 1000 V||0,5|4|present|1000|yes|HBC|2025-11-17
L007|W|CAT III 1000V/CAT IV 600V|CAT II 1000 V|10|4|present||||2026-02-23
L008|B|CAT II 1000 V||10|18|||||2025-09
L009|W|CAT III 1000 V / CAT IV 600 V|CAT II 1000 V|10|4|missing||||2026-01-12
L010|B|CAT III 1000V/CAT IV 600V|CAT II 1000 V|10|4|unknown||||2025-07-14
L011|W|||10|18|unknown||||2025-06-23
L012|B|CAT V 1000|CAT II 1000 V|10|4|present||||2025-12-08
"""

TIPS = """
code|crib|what|marks|amps|tip|look
T001|W|probe tip|CAT III 1000 V / CAT IV 600 V|10|4|2026-01-12
T002|W|probe tip|CAT III 1000 V / CAT IV 600 V|10|4|2026-01-12
T003|W|crocodile clip|CAT III 1000V/CAT IV 600V|10|4|2025-12-01
T004|W|crocodile clip|CAT III 600 V|10|4|2025-12-01
T005|B|probe tip|CAT III 1000V/CAT IV 600V|10|2|2026-01-12
T006|B|probe tip|CAT II 1000 V|10|18|2025-09-08
T007|B|crocodile clip|CAT III 1000 V|10|4|2026-01-12
T008|B|hook clip|CAT III 600 V|1|2|2025-10-20
"""

PROVING_UNITS = """
code|crib|gives_dc|gives_ac|altitude|look
U001|B|690|690|2000|2026-02-02
U002|W|690|690|2000|2026-01-19
U003|B|690|690|2000|2026-02-02
U004|W||400|2000|2025-12-01
U005|W|100|100|2000|2025-11-24
"""

TOOLS = """
code|crib|what|mark|look
X001|W|ratchet, half inch|1000 V AC / 1500 V DC|2025-11-24
X002|W|socket 13 on long extension|1000 V AC / 1500 V DC|2025-11-24
X003|W|screwdriver, slotted 5,5|1000 V AC / 1500 V DC|2025-11-24
X004|W|screwdriver, cross-head 2|1000 V AC / 1500 V DC|2025-11-24
X005|W|ring spanner 10|1000 V AC / 1500 V DC|2025-11-24
X006|W|ring spanner 13|AC 1000 V, DC 1500 V|2025-11-24
X007|W|cable cutters|AC 1000 V, DC 1500 V|2025-09-08
X008|W|combination pliers|1000 V AC / 1500 V DC|2025-09-08
X009|W|cable knife|1000 V AC / 1500 V DC|2025-06
X010|B|ratchet, half inch|1000 V AC / 1500 V DC|2025-10-13
X011|B|socket 17 deep|1000 V AC / 1500 V DC|2025-10-13
X012|B|screwdriver, slotted 6,5|1000 V AC / 1500 V DC|2025-10-13
X013|B|open spanner 19|AC 1000 V, DC 1500 V|2025-10-13
X014|B|combination pliers|1000 V AC / 1500 V DC|2025-02-17
X015|B|plastic wedge||2025-10-13
X016|B|hexagon key 8|1000 V AC / 1500 V DC|2025-W42
"""

SHIELDS = """
code|crib|what|arc|hood|balaclava|fabric|window|look
S001|W|hood with window|25|yes|no|25|25|2026-01-19
S002|W|shield|12|no|yes|12|12|2026-01-19
S003|W|shield|10|no|no|10|12|2025-10-06
S004|B|hood with window|40|yes|no|40|40|2025-12-15
S005|B|shield|12|no|yes|8|12|2025-12-15
"""

HOOKS = """
code|crib|what|mark|look
H001|W|hook on a rod, 1,8 m|1000 V AC / 1500 V DC|2025-11-24
H002|B|hook on a rod, 1,8 m|1000 V AC / 1500 V DC|2025-10-13
H003|W|hook, folding|1000 V AC / 1500 V DC|2025-01-20
H004|B|hook on a rod, 2,4 m||2025-10-13
"""

BARRIER_SETS = """
code|crib|what|look
B001|B|posts, chain, two signs|2026-02-02
B002|W|posts, chain, two signs|2026-01-19
B003|B|posts, chain, two signs|2026-02-02
B004|W|folding fence|2025-12-01
B005|B|tape stand, one sign|2025-08-11
"""

LOCK_OFF_SETS = """
code|crib|what|look
K001|B|box, two padlocks, plug cover|2026-02-02
K002|W|box, two padlocks, plug cover|2026-01-19
K003|B|box, two padlocks|2026-02-02
K004|W|padlock, breaker clip|2025-12-01
K005|W|box, six padlocks|2025-12-01
K006|B|breaker clips, tags|2025-10-20
"""

# code, state, with whom, since, reason. The failed pair G020 has no entry on purpose: the keeper
# wrote down the laboratory's result and forgot to take the pair off the shelf.
STATES = """
code|state|with|since|reason
G021|held||2026-02-19|suspect: sat on in the van
G022|withdrawn||2025-10-27|cut by swarf in the palm
G023|lost||2026-01-30|not found at stocktake
G024|out|P04|2026-02-27|
G025|kept by|P02|2025-09-22|
L007|held||2026-02-23|inner colour visible at the plug
"""

# Pieces inspected on the demo morning: clearance_mm stands beside a pair of gloves, the state of
# the caps beside leads and detectors.
CHECKED = """
code|clearance|caps
G001|50|
P001||
D001||present
U001||
B001||
K001||
G002|50|
P002||
G003|60|
P003||
D002||present
U002||
B002||
K002||
X001||
X002||
S001||
H001||
G005|30|
P004||
N001||
L004||present
U003||
B003||
K003||
G032|50|
P017||
G014|50|
P008||
G026|50|
G033|60|
P013||
D003||present
D004||present
N002||
L001||present
L009||missing
X003||
X004||
S002||
H002||
G028|105|
P011||
"""


def rows(table: str) -> list[dict[str, str]]:
    """Return one dict per line of a table above, keyed by its heading line.

    Raises ValueError where a line has another number of fields than the heading.
    """
    lines = [line for line in table.splitlines() if line.strip()]
    keys = lines[0].split("|")
    return [dict(zip(keys, (part.strip() for part in line.split("|")), strict=True)) for line in lines[1:]]
