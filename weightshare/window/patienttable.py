"""Rows of words as a table that is chosen from by keys: only what is seen is drawn, however many rows there are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QListWidget, QTableView

Index = QModelIndex | QPersistentModelIndex
ENTER = Qt.Key.Key_Return, Qt.Key.Key_Enter
PADDING_PX = 12
"""At either side of a cell's words: the theme's 8 px, and Qt's own."""
MOST_PX = 10_000
RIGHT, LEFT = (Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignLeft)


def height_of(words: str, metrics: QFontMetrics, width_px: int) -> int:
    """Return how high `words` are, px, broken into lines in a cell so wide."""
    room = QRect(0, 0, max(1, width_px - 2 * PADDING_PX), MOST_PX)
    return metrics.boundingRect(room, int(Qt.TextFlag.TextWordWrap), words).height()


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

    `wide`: the columns that take the rest of the width. `broken`: words are broken into lines, none is cut.
    """

    opened = Signal(int)
    chosen = Signal(int)

    def __init__(self, rows: Rows, wide: Sequence[int], *, broken: bool = False) -> None:
        super().__init__()
        self.rows, self._wide, self._broken = rows, tuple(wide), broken
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
            head.setSectionResizeMode(column, QHeaderView.ResizeMode.Stretch)
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
        line = self.fontMetrics().lineSpacing()
        self.verticalHeader().setDefaultSectionSize(round(line * 1.7))
        if self._broken:
            self.resizeRowsToContents()

    def sizeHintForRow(self, row: int) -> int:
        """Return how high a row has to be, px. Qt itself forgets the padding at both sides, and cuts the last line."""
        if not self._broken:
            return super().sizeHintForRow(row)
        metrics, cells = self.fontMetrics(), self.rows.rows[row]
        # the other columns are as wide as their words
        highs = [height_of(cells[column], metrics, self.columnWidth(column)) for column in self._wide]
        return max(highs) + metrics.lineSpacing() // 2

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


class TaskList(QListWidget):
    """A list whose rows are as high as their words take: Qt itself forgets the padding, and cuts the last line."""

    def fit_rows(self) -> None:
        """Break words anew for this width."""
        for row in range(self.count()):
            item = self.item(row)
            metrics = QFontMetrics(item.font().resolve(self.font()))
            high = height_of(item.text(), metrics, self.viewport().width())
            item.setSizeHint(QSize(0, high + metrics.lineSpacing() // 2))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Break words anew."""
        super().resizeEvent(event)
        self.fit_rows()

    def showEvent(self, event: QShowEvent) -> None:
        """Break words anew: how large the letters are is known only now."""
        super().showEvent(event)
        self.fit_rows()
