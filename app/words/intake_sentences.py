"""Sentences about a keeper's sheet: what happened, to which thing, and the next step.

Every text is for `str.format` with the values of the fault or note it belongs to.
"""

from __future__ import annotations

_AT = "{thing} (sheet {sheet}, row {row}, column {column} \u201c{heading}\u201d): "
_ROW = "{thing} (sheet {sheet}, row {row}): "
_COLUMN = "Sheet {sheet}, column {column} \u201c{heading}\u201d: "

_FILE = {
    "sheet.file-missing": "There is no file {file}. Check the name and the folder, then choose it again.",
    "sheet.file-is-folder": "{file} is a folder. Choose the sheet inside it.",
    "sheet.file-not-a-file": (
        "{file} is not an ordinary file. Save the sheet as CSV or XLSX on this computer and choose that."
    ),
    "sheet.file-unreadable": (
        "{file} cannot be opened. Close it in the spreadsheet program, check that you may read it, and try again."
    ),
    "sheet.file-empty": "{file} is empty. Check that the right file was chosen and that it was saved.",
    "sheet.file-too-large": (
        "{file} is larger than {limit_mb} MB. Save only the sheets with kit, without pictures, and try again."
    ),
    "sheet.file-unpacks-too-large": (
        "{file} would unpack to more than {limit_mb} MB, so it was not opened. Copy the rows into a new "
        "workbook and save that."
    ),
    "sheet.file-damaged": (
        "{file} is damaged and cannot be read as a workbook. Open it in the spreadsheet program, save it anew"
        " as XLSX, and try again."
    ),
    "sheet.file-protected": "{file} is protected by a password. Save a copy without a password and choose that.",
    "sheet.file-old-or-protected": (
        "{file} is an old .xls workbook, or one protected by a password. Save it as XLSX without a password "
        "and choose that."
    ),
    "sheet.file-not-a-sheet": (
        "{file} is neither a CSV file nor an XLSX workbook. Save the sheet as CSV or XLSX and choose that."
    ),
    "sheet.file-quotes": (
        "{file}: quotation marks do not pair up near line {line}, so that rows would run together. Mend or "
        "remove the mark there, then read the file again."
    ),
    "sheet.encoding-unknown": (
        "{file} is not written in UTF-8 (byte {position}). Say that it is in the Windows encoding (cp1252), "
        "or save it as \u201cCSV UTF-8\u201d."
    ),
    "sheet.encoding-not-offered": "{file}: the encoding {found} is not read here. Choose one of {expected}.",
    "sheet.too-many-rows": (
        "{file}, sheet {sheet}: more than {limit} rows. Split the sheet, or delete what stands far below it."
    ),
    "sheet.too-many-columns": (
        "{file}, sheet {sheet}: more than {limit} columns. Delete what stands far to the right of the kit."
    ),
    "sheet.too-many-cells": (
        "{file}, sheet {sheet}: more than {limit} cells. Split the sheet, or delete what stands far from the kit."
    ),
    "sheet.no-headings": (
        "{file}, sheet {sheet}: no row of headings was found. Give the columns headings such as Code, Kind, "
        "Class and Last test, or delete the sheet if it holds no kit."
    ),
    "sheet.no-rows": "{file} has headings but no kit below them. Check that the right file was chosen.",
    "sheet.heading-twice": (
        "{thing}, sheet {sheet}, row {row}: the columns \u201c{other}\u201d and \u201c{heading}\u201d mean "
        "the same. Rename or delete one of them."
    ),
}

_ROWS = {
    "sheet.code-missing": _AT
    + ("there is no code in this row. Write the code that stands on the piece, or delete the row."),
    "sheet.code-is-date": _AT
    + (
        "the spreadsheet program has turned the code into the date {found}. Set the column to text and type "
        "the code again."
    ),
    "sheet.code-unreadable": _AT + "the code is too long or runs over several lines. Write one code on one line.",
    "sheet.code-twice": _ROW
    + (
        "the same code stands in row {other_row} of sheet {other_sheet}. Neither row was taken; correct the "
        "code in one of them."
    ),
    "sheet.kind-missing": _ROW
    + ("it is not said what kind of kit this is. Write the kind, for example rubber gloves or test leads."),
    "sheet.kind-unknown": _AT
    + ("\u201c{found}\u201d is no kind of kit known here. The nearest is {expected}; write that if it is meant."),
    "sheet.quantity": _AT
    + ("\u201c{found}\u201d stands for several pieces. Give every piece a code and a row of its own."),
}

_CELLS = {
    "sheet.formula": _AT + "the cell holds a formula. Replace it by its value.",
    "sheet.error-value": _AT + "the cell shows an error of the spreadsheet. Type the value itself.",
    "sheet.control-characters": _AT
    + ("the cell holds characters that cannot be seen. Clear it and type the value again."),
    "sheet.cell-too-long": _AT + "the text is longer than 2,000 characters. Shorten it.",
    "sheet.text-too-long": _AT
    + ("the text is longer than {limit} characters, too long for this column. Write only the value."),
    "sheet.merged-not-taken": _AT
    + (
        "the cell is merged with those above. Dates, codes and results are not taken from another row; write "
        "it in each row."
    ),
    "sheet.ditto-not-taken": _AT
    + ("a ditto mark stands where a date, code or result belongs. Write it out in this row."),
    "sheet.ditto-nothing-above": _AT
    + ("the cell says \u201cas above\u201d, but nothing that can be read stands above it. Write the value out."),
    "sheet.thousands": _AT
    + ("{found} can be read as thousands or as decimals. Write it without a thousands mark, for example 1000."),
    "sheet.number-unreadable": _AT + "\u201c{found}\u201d is not a number that can be read. Write digits and the unit.",
    "sheet.number-is-date": _AT
    + ("the spreadsheet program has turned the value into the date {found}. Set the column to text and type it again."),
    "sheet.unit-missing": _AT + "{found} has no unit. Write it beside the number or in the heading: {expected}.",
    "sheet.unit-unknown": _AT
    + ("the unit in \u201c{found}\u201d is not one of {expected}. Write the value in one of them."),
    "sheet.word-unknown": _AT + "\u201c{found}\u201d is not understood. Write one of: {expected}.",
    "sheet.result-unknown": _AT + "\u201c{found}\u201d is no result. Write passed or failed.",
    "sheet.result-without-date": _AT
    + ("there is a result, figure or certificate, but no day. Write the day of the test or check, or clear the cell."),
    "sheet.status-unknown": _AT
    + ("\u201c{found}\u201d does not say what may be done with the piece. Write one of: {expected}."),
    "sheet.size-unreadable": _AT
    + ("\u201c{found}\u201d is not a size in inches of palm girth. Write for example 9, 9.5 or 10."),
    "sheet.value-too-fine": _AT
    + (
        "{found} has more decimals than are kept. Look at the piece or the certificate and write the figure given there."
    ),
    "sheet.value-out-of-range": _AT + "{found} is outside what is possible. Check the figure and its unit.",
    "sheet.value-refused": _AT
    + ("{found} cannot be kept. Look at the piece and write the value in the words of the format."),
    "sheet.columns-contradict": _AT
    + (
        "{found} differs from another column of this row that says the same. Find out which is right and "
        "correct the other."
    ),
}

_DATES = {
    "sheet.date-ambiguous": _AT
    + ("{found} can be {one} or {other}, and nothing else in the column decides. Write the date as {one} or {other}."),
    "sheet.date-two-digits": _AT
    + ("{found} can begin with the year or the day. Write the year with four digits, as in 2026-03-01."),
    "sheet.date-unreadable": _AT
    + (
        "\u201c{found}\u201d is not a date that can be read. Write it as in 2026-03-01, or 2026-03 if only "
        "the month is known."
    ),
    "sheet.date-impossible": _AT
    + ("no calendar has {found}. Look at the certificate or the stamp and correct the date."),
    "sheet.date-number": _AT
    + ("{found} is a bare number, not a date. Format the cell as a date, or write it as in 2026-03-01."),
    "sheet.date-in-future": _AT + "{found} is after {expected}, the day of reading. Correct the date.",
}

_MARKS = {
    "sheet.class-unreadable": _AT
    + ("\u201c{found}\u201d is no class. Write one of {expected}, as printed on the cuff or label."),
    "sheet.class-contradicts": _ROW
    + ("the class column says {found}, the kind says class {other}. Look at the piece and correct the wrong one."),
    "sheet.type-contradicts": _ROW
    + ("type {found} and type {other} are both written. Look at the piece and correct the wrong one."),
    "sheet.class-length": _AT
    + (
        "{found} does not go with class {other}; that class is made in {expected} mm. Look at the mark, "
        "measure, and correct class or length."
    ),
    "sheet.class-volts-disagree": _AT
    + (
        "{found} does not go with class {other}, which is used up to {expected}. Look at the mark and correct"
        " class or volts."
    ),
    "sheet.category-unknown": _AT
    + ("there is no measurement category \u201c{found}\u201d. Look at the mark and write one of {expected}."),
    "sheet.category-without-volts": _AT
    + ("\u201c{found}\u201d names a category without volts. Write both, as in CAT III 1000 V."),
    "sheet.category-twice": _AT
    + ("\u201c{found}\u201d gives one category twice. Look at the mark and write each category once, with its volts."),
    "sheet.mark-unreadable": _AT
    + ("\u201c{found}\u201d is not a category mark that can be read. Write it as in CAT III 1000 V / CAT IV 600 V."),
    "sheet.volts-unreadable": _AT
    + ("\u201c{found}\u201d cannot be read as volts. Write it as in 1000 V AC / 1500 V DC."),
    "sheet.volts-current-missing": _AT
    + ("\u201c{found}\u201d does not say AC or DC. Look at the mark and write it as in 1000 V AC / 1500 V DC."),
    "sheet.volts-contradict": _ROW
    + ("{found} V and {other} V are both given for the same mark. Look at the piece and correct the wrong one."),
    "sheet.current-contradicts": _ROW
    + ("the test is said to be {found} and {other}. Look at the certificate and correct the wrong one."),
    "sheet.fuse-unreadable": _AT
    + ("\u201c{found}\u201d does not give the fuse in full. Write volts, AC or DC, and kind, as in 1000 V DC HBC."),
    "sheet.custody-contradicts": _ROW
    + (
        "the status says it is with {found}, the holder column says {other}. Find out who has it and correct "
        "the wrong one."
    ),
    "sheet.out-with-nobody": _ROW
    + ("the piece is said to be out, but not with whom. Write the person's code in the holder column."),
    "sheet.never-but-out": _ROW
    + ("first issue says never, yet it is with {other}. Write the day it first went out, or unknown."),
}

_NOTES = {
    "sheet.note-hidden-sheet": (
        "Sheet {sheet} is hidden and was not read. Show it and read the file again if it holds kit."
    ),
    "sheet.note-title-rows": (
        "Sheet {sheet}: rows above the headings that were passed over: {count}. Check that none of them is kit."
    ),
    "sheet.note-headings-again": ("Sheet {sheet}: rows that repeat the headings and were passed over: {count}."),
    "sheet.note-passed-over": _COLUMN
    + ("not used, as \u201c{other}\u201d was taken. Rename the headings if it should be the other way round."),
    "sheet.note-due-not-used": _COLUMN + "not used. Due days are computed from the tests; compare them after reading.",
    "sheet.note-day-first": _COLUMN
    + ("dates are read day first, as one of them allows nothing else. Check one of them."),
    "sheet.note-month-first": _COLUMN
    + ("dates are read month first, as one of them allows nothing else. Check one of them."),
    "sheet.note-merged": _COLUMN
    + ("the value was taken from a merged cell (rows: {count}). Check that it holds for all of them."),
    "sheet.note-ditto": _COLUMN
    + ("a ditto mark was read as the value above (rows: {count}). Check that it holds for all of them."),
    "sheet.note-blank-filled": _COLUMN
    + ("a blank was read as the value above (rows: {count}). Check that it holds for all of them."),
    "sheet.note-kind-of-sheet": (
        "Sheet {sheet}: the kind was taken from the sheet's name: {kind} (rows: {count}). Check that it holds"
        " for all of them."
    ),
    "sheet.note-not-for-kind": _COLUMN
    + ("not used for the kind {kind}, which has no such value (rows: {count}). Check that the kind is right."),
    "sheet.note-unread-column": _COLUMN
    + (
        "some cells hold formulas, errors or unreadable text (rows: {count}). The column is not used, so nothing needs "
        "doing."
    ),
    "sheet.note-class-zero": _COLUMN
    + (
        "class 0 was read from a plain number (rows: {count}), and spreadsheet programs shorten 00 to 0. Check "
        "the cuffs for class 00."
    ),
    "sheet.note-status-computed": _COLUMN
    + ("the status only says what is due (rows: {count}). It was not used; due days are computed from the tests."),
    "sheet.note-first-issue-unknown": _COLUMN
    + ("no day could be read, so the first issue is unknown (rows: {count}). Write the day if it is known."),
}

SENTENCES: dict[str, str] = _FILE | _ROWS | _CELLS | _DATES | _MARKS | _NOTES
