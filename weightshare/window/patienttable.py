"""Rows of words as a table that is chosen from by keys: only what is seen is drawn, however many rows there are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

Index = QModelIndex | QPersistentModelIndex
ENTER = Qt.Key.Key_Return, Qt.Key.Key_Enter
RIGHT, LEFT = (Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignLeft)


class Rows(QAbstractTableModel):
    """Hands out cells of text under `heads`; `figures` are the columns that are set to the right."""

    def __init__(self, heads: Sequence[str], figures: Sequence[int] = ()) -> None:
        super().__init__()
        self.heads, self.rows = tuple(heads), ()
        self._figures = frozenset(figures)

    rows: tuple[tuple[str, ...], ...]

    def show_rows(self, rows: Sequence[tuple[str, ...]]) -> None:
        """Show these in place of those before."""
        self.beginResetModel()
        self.rows = tuple(rows)
        self.endResetModel()

    def rowCount(self, _parent: Index = QModelIndex()) -> int:  # noqa: B008  # Qt's own signature
        return len(self.rows)

    def columnCount(self, _parent: Index = QModelIndex()) -> int:  # noqa: B008
        return len(self.heads)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows, and to which side it is set."""
        if role == Qt.ItemDataRole.DisplayRole:
            return self.rows[index.row()][index.column()]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return self._side(index.column()) | Qt.AlignmentFlag.AlignVCenter
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.heads[section]
        return (
            self._side(section) | Qt.AlignmentFlag.AlignVCenter if role == Qt.ItemDataRole.TextAlignmentRole else None
        )

    def _side(self, column: int) -> Qt.AlignmentFlag:
        return RIGHT if column in self._figures else LEFT


class Table(QTableView):
    """Shows `Rows`, a row chosen as a whole; Enter, or two clicks, open it.

    `wide`: the columns that take the rest of the width, in such `parts` of it; alike where none are given.
    """

    opened = Signal(int)
    chosen = Signal(int)

    def __init__(self, rows: Rows, wide: Sequence[int], *, parts: Sequence[float] = (), broken: bool = False) -> None:
        super().__init__()
        self.rows, self._broken, self._parts = rows, broken, dict(zip(wide, parts, strict=False))
        self.setModel(rows)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setWordWrap(broken)
        self.setCornerButtonEnabled(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        head = self.horizontalHeader()
        head.setHighlightSections(False)
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        for column in wide:
            mode = QHeaderView.ResizeMode.Fixed if parts else QHeaderView.ResizeMode.Stretch
            head.setSectionResizeMode(column, mode)
        # what is looked at to find a width: what is seen, not thousands of rows
        head.setResizeContentsPrecision(0)
        if broken:
            head.sectionResized.connect(lambda *_sizes: self.resizeRowsToContents())
        self.doubleClicked.connect(lambda index: self.opened.emit(index.row()))
        self.selectionModel().currentRowChanged.connect(lambda now, _before: self.chosen.emit(now.row()))

    def show_rows(self, rows: Sequence[tuple[str, ...]], row: int = 0) -> None:
        """Show these, with one of them chosen."""
        self.rows.show_rows(rows)
        if rows:
            self.selectRow(min(max(row, 0), len(rows) - 1))
        self.fit_rows()

    @property
    def row(self) -> int:
        """The row that is chosen; -1: none."""
        return self.currentIndex().row()

    def fit_rows(self) -> None:
        """Make rows as high as their letters ask for; where words are broken, as many lines as they take."""
        self._fit_columns()
        line = self.fontMetrics().lineSpacing()
        self.verticalHeader().setDefaultSectionSize(round(line * 1.7))
        if self._broken:
            self.resizeRowsToContents()

    def _fit_columns(self) -> None:
        """Give each wide column its part of what the others leave."""
        head = self.horizontalHeader()
        others = sum(head.sectionSize(column) for column in range(head.count()) if column not in self._parts)
        for column, part in self._parts.items():
            head.resizeSection(column, round(part * max(0, self.viewport().width() - others)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Break words anew for another width."""
        super().resizeEvent(event)
        self.fit_rows()

    def showEvent(self, event: QShowEvent) -> None:
        """Break words anew: how wide the columns are is known only now."""
        super().showEvent(event)
        self.fit_rows()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens; letters go to whoever looks for something."""
        if event.key() in ENTER and self.row >= 0:
            self.opened.emit(self.row)
        elif event.key() in (Qt.Key.Key_Escape, *ENTER):
            event.ignore()
        else:
            super().keyPressEvent(event)
