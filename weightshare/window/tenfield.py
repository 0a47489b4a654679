"""A figure from 0 to 10, chosen by one key or by the mouse; nothing is chosen to begin with."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel

MOST = 10
STEPS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}


class TenField(QFrame):
    """Digits choose (1 and then 0 is 10), Left and Right change, Delete takes it back."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("ten")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.value: int | None = None
        row = QHBoxLayout(self)
        row.setContentsMargins(4, 2, 4, 2)
        row.setSpacing(2)
        self.cells = [QLabel(str(number)) for number in range(MOST + 1)]
        for cell in self.cells:
            cell.setAlignment(Qt.AlignmentFlag.AlignCenter)
            cell.setObjectName("cell")
            row.addWidget(cell, 1)
        self._show()

    def choose(self, value: int | None) -> None:
        """Choose `value`; None: nothing."""
        if value != self.value:
            self.value = value
            self._show()
            self.changed.emit()

    def _show(self) -> None:
        for number, cell in enumerate(self.cells):
            state = "true" if number == self.value else "false"
            if cell.property("chosen") != state:
                cell.setProperty("chosen", state)
                cell.setText(f"[{number}]" if number == self.value else str(number))
                cell.style().polish(cell)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Digits, arrows, Delete; other keys go on to the page."""
        key, text = Qt.Key(event.key()), event.text()
        if text.isdecimal() and text.isascii():
            self.choose(MOST if self.value == 1 and text == "0" else int(text))
        elif key in STEPS:
            before = self.value if self.value is not None else (0 if STEPS[key] < 0 else -1)
            self.choose(min(MOST, max(0, before + STEPS[key])))
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.choose(None)
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """The figure under the mouse."""
        self.setFocus()
        for number, cell in enumerate(self.cells):
            if cell.geometry().contains(event.position().toPoint()):
                self.choose(number)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show that the keyboard is here."""
        super().focusInEvent(event)
        self.update()
