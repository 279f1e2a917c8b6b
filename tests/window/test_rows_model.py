from __future__ import annotations

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QTableView

from app.window.rows_model import Column, RowsModel
from tests.drive import Drive

Row = tuple[str, int]


def model_of(*rows: Row) -> RowsModel[Row]:
    made: RowsModel[Row] = RowsModel(
        (
            Column("Name", lambda row: row[0]),
            Column("Figure", lambda row: str(row[1]), lambda row: row[1], is_figure=True),
        ),
        lambda row: row[0],
        lambda row: row[0],
    )
    made.set_rows(rows)
    return made


def names(model: RowsModel[Row]) -> list[str]:
    return [row[0] for row in model.shown()]


def test_it_keeps_the_toolkits_rules_through_sort_filter_and_new_rows(drive: Drive) -> None:
    model = model_of(("b", 2), ("a", 10), ("c", 1))
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    model.sort(1)
    model.set_filter("a")
    model.set_filter("")
    model.set_rows([("d", 4)])
    model.set_rows([])
    assert model.rowCount() == 0
    del tester


def test_it_sorts_by_the_key_and_not_by_the_words(drive: Drive) -> None:
    model = model_of(("b", 2), ("a", 10), ("c", 1))
    model.sort(1)
    assert names(model) == ["c", "b", "a"]
    model.sort(1, Qt.SortOrder.DescendingOrder)
    assert names(model) == ["a", "b", "c"]
    model.sort(-1)
    assert names(model) == ["b", "a", "c"]


def test_every_word_of_the_filter_must_occur_and_capitals_do_not_matter(drive: Drive) -> None:
    model = model_of(("Rubber gloves G1", 1), ("rubber sleeves S1", 2))
    model.set_filter("RUBBER g1")
    assert names(model) == ["Rubber gloves G1"]
    model.set_filter("", lambda row: row[1] == 2)
    assert names(model) == ["rubber sleeves S1"]
    assert model.total == 2


def test_what_is_selected_stays_selected_while_it_is_shown(drive: Drive) -> None:
    model = model_of(("b", 2), ("a", 10), ("c", 1))
    table = QTableView()
    table.setModel(model)
    chosen = table.selectionModel()
    chosen.setCurrentIndex(
        model.index(1, 0), QItemSelectionModel.SelectionFlag.SelectCurrent | QItemSelectionModel.SelectionFlag.Rows
    )
    model.sort(0)
    assert model.row_at(chosen.currentIndex().row()) == ("a", 10)
    model.set_filter("c")
    assert not chosen.selectedRows()
    assert model.place_of("c") == 0
    assert model.place_of("a") == -1


def test_cells_say_text_alignment_and_nothing_for_no_cell(drive: Drive) -> None:
    model = model_of(("b", 2))
    assert model.index(0, 0).data() == "b"
    assert model.data(model.index(0, 1), Qt.ItemDataRole.TextAlignmentRole) & Qt.AlignmentFlag.AlignRight
    assert model.data(QModelIndex()) is None
    assert model.headerData(0, Qt.Orientation.Horizontal) == "Name"
