"""The fields of the setting-up: what is worn on the scales, and the address of a scale on the network."""

from __future__ import annotations

import math

from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QWidget

from weightshare.model import Side
from weightshare.practice.startwords import WORN
from weightshare.records.pair import THICKEST_SOLE_MM, Footwear
from weightshare.tongue import mark, number, say

NO_SOLE = mark("The {side} sole: a number of millimetres, 0 to 100, or nothing.")
ADDRESS = mark("Address or port, then Enter:")


class WornForm(QWidget):
    """What is worn, and how thick each sole is under the heel; all of it may stay empty."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.words = QLineEdit()
        self.words.setPlaceholderText(say("running shoes"))
        self.words.setMaxLength(80)
        self.soles = {side: QLineEdit() for side in Side}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(QLabel(say(WORN)), 0, 0, 1, 2)
        self._add(grid, 1, say("&Worn on the feet"), self.words)
        for row, side in enumerate(Side, start=2):
            self.soles[side].setMaxLength(8)
            self._add(
                grid,
                row,
                say("Sole under the &left heel, mm") if side is Side.LEFT else say("Sole under the &right heel, mm"),
                self.soles[side],
            )
        self._grid = grid

    def _add(self, grid: QGridLayout, row: int, text: str, box: QLineEdit) -> None:
        label = QLabel(text)
        label.setBuddy(box)
        grid.addWidget(label, row, 0)
        grid.addWidget(box, row, 1)

    def show_footwear(self, footwear: Footwear) -> None:
        """Show what was told before."""
        self.words.setText(footwear.words)
        for side, sole_mm in ((Side.LEFT, footwear.left_sole_mm), (Side.RIGHT, footwear.right_sole_mm)):
            self.soles[side].setText("" if sole_mm is None else number(sole_mm, "g"))

    def footwear(self) -> Footwear | str:
        """Return what is told; in words what is wrong with it, the keyboard led there."""
        told: dict[Side, float | None] = {}
        for side, box in self.soles.items():
            try:
                told[side] = sole_of(box.text())
            except ValueError:
                box.setFocus()
                return say(NO_SOLE, side=side)
        return Footwear(self.words.text().strip(), told[Side.LEFT], told[Side.RIGHT])

    def fit(self, room: QRectF, text: int) -> None:
        """Take `room`, and letters of `text` px."""
        self.setGeometry(room.toRect())
        self._grid.setVerticalSpacing(max(4, text // 4))
        self._grid.setHorizontalSpacing(text)
        self.setStyleSheet(f"QLabel, QLineEdit {{ font-size: {text}px; }}")


class AddressField(QWidget):
    """Where the address of a scale is typed that cannot be found by itself."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.box, label = QLineEdit(), QLabel(say(ADDRESS))
        self.box.setPlaceholderText("192.168.0.20:7000")
        label.setBuddy(self.box)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(label, 0, 0)
        grid.addWidget(self.box, 0, 1)
        grid.setColumnStretch(1, 1)
        self.hide()

    def open_field(self) -> None:
        """Ask for an address."""
        self.box.clear()
        self.show()
        self.raise_()
        self.box.setFocus()

    def fit(self, room: QRectF, text: int) -> None:
        """Take `room`, and letters of `text` px."""
        self.setGeometry(room.toRect())
        self.setStyleSheet(f"QLabel, QLineEdit {{ font-size: {text}px; }}")


def sole_of(text: str) -> float | None:
    """Return how thick a sole is, mm, as `text` says; None: it says nothing. Raises ValueError where it is none."""
    said = text.strip().removesuffix("mm").strip().replace(",", ".")
    if not said:
        return None
    thick_mm = float(said)
    if not (math.isfinite(thick_mm) and 0.0 <= thick_mm <= THICKEST_SOLE_MM):
        raise ValueError(text)
    return thick_mm
