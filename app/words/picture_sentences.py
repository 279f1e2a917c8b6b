"""The sentences of the pictures in English, as str.format texts; a translation gives the same keys and fields.

Days are always written as 2026-03-01 and the last good day stands before the due day. `number.*` are the marks of a
written figure; its unit follows after a blank that does not break.
"""

from __future__ import annotations

SENTENCES: dict[str, str] = {
    "number.decimal": ".",
    "number.group": ",",
    "number.volts": "{number}\u00a0V",
    # Headroom
    "headroom.title": "Headroom: {system}, {circuit}",
    "headroom.required": "required {volts}",
    "headroom.required-unknown": "required voltage unknown",
    "headroom.working": "working voltage {volts}",
    "headroom.working-unknown": "working voltage unknown",
    "headroom.margin": "margin {margin}",
    "headroom.axis-linear": "volts, even scale from 0",
    "headroom.axis-log": "volts, logarithmic scale: the figures lie decades apart, so heights do not compare",
    "headroom.all-reach": "Voltage: every piece reaches the line. Least to spare: {code} {label}, {volts}.",
    "headroom.some-short": "Under the line: {count} of {total}. Shortest: {code} {label}, {volts} short.",
    "headroom.some-unknown": "Not shown as fit: rating unknown for {pieces}.",
    "headroom.no-required": "Not shown as fit: the required voltage is unknown.",
    "headroom.no-pieces": "No piece of kit to show yet.",
    "headroom.reaches": "{volts} to spare",
    "headroom.exact": "exactly on the line",
    "headroom.short": "{volts} short",
    "headroom.unknown": "not shown as fit: rating unknown",
    "headroom.not-compared": "not shown as fit: required voltage unknown",
    "headroom.offers": "offers {volts}",
    "headroom.offers-unknown": "offers: unknown",
    "headroom.member": "{code} {label}: {volts}",
    "headroom.member-unknown": "{code} {label}: rating unknown",
    "headroom.shortest": "shortest: {member}",
    "headroom.described": "{code} {label}: {offers}, {status}.",
    # Due ribbon
    "ribbon.title": "Dates of {code} {label}",
    "ribbon.use-until": "use until {last} (retest due {due})",
    "ribbon.in-date": "in date until {last} (retest due {due})",
    "ribbon.overdue": "last good day was {last} (retest was due {due})",
    "ribbon.no-test": "not shown as fit: no test that counts is recorded",
    "ribbon.no-due": "not shown as fit: the due day cannot be told",
    "ribbon.undated": "no date limits it",
    "ribbon.tested": "tested {day}",
    "ribbon.calibrated": "calibrated {day}",
    "ribbon.looked-over": "looked over {day}",
    "ribbon.air-tested": "air-tested {day}",
    "ribbon.first-issue": "first issue {day}",
    "ribbon.never-issued": "never issued so far",
    "ribbon.issue-unknown": "day of first issue unknown",
    "ribbon.today": "today {day}",
    "ribbon.warning-from": "warning days from {day}",
    "ribbon.due": "last good day {last} (retest\u00a0due\u00a0{due})",
    "ribbon.decides": "decides: {label}, {day}",
    "ribbon.limit": "{label}, {day}",
    "ribbon.deciding": "The limit that decides: {label}.",
    # Due sheet
    "sheet.left-out": "Rows left out of this picture: {count}. The list itself holds them all.",
    "sheet.empty": "No piece to show.",
    "sheet.key": "today {day} (upright bar); rows shown: {count}. Circle: last test. Square: first issue. Diamond: due day. Arrow: a day further off.",
    "sheet.stretches": "Filled: in date. Wide hatch: warning days. Close hatch: overdue. Dashed and empty: cannot be told.",
    "forecast.title": "Retests falling due",
    "forecast.past": "overdue",
    "forecast.aside": "after these months: {later}; no date known: {undated}",
    "forecast.described": "Retests falling due, month by month: {told}; {aside}.",
}
