"""How many pixels this screen has to the millimetre, checked once with a ruler: what screens claim is often wrong."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QDialog, QWidget

from weightshare.tongue import mark, say
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.store import Store
from weightshare.window.theme import Theme

BAR_MM = 100.0
LOW, HIGH = 1.0, 20.0
"""px/mm that are let through."""

SAID = (
    mark("Hold a ruler against the bar."),
    mark("Keys \u2190 and \u2192 make it 100 mm long, with Shift faster."),
    mark("Enter keeps it. Esc leaves everything as it was."),
)


def ask_ruler(window: QWidget, theme: Theme, store: Store, told: Callable[[float], None]) -> None:
    """Let somebody hold a ruler against the screen of `window`; what comes of it is kept, and `told` (px/mm)."""
    dialog = RulerDialog(theme, store.px_per_mm(window.screen()), window)

    def take(result: int) -> None:
        if result == QDialog.DialogCode.Accepted:
            store.set_px_per_mm(window.screen(), dialog.px_per_mm)
        dialog.deleteLater()
        told(store.px_per_mm(window.screen()))

    dialog.finished.connect(take)
    dialog.open()


class RulerDialog(QDialog):
    """Shows a bar that should be 100 mm long; `px_per_mm` is what makes it so."""

    def __init__(self, theme: Theme, px_per_mm: float, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.bar_px = round(px_per_mm * BAR_MM)
        self.setWindowTitle(say("Check the screen with a ruler"))
        self.resize(max(640, self.bar_px + 160), 300)

    @property
    def px_per_mm(self) -> float:
        """What the bar's length now says (px/mm)."""
        return self.bar_px / BAR_MM

    def bar(self) -> QRectF:
        """Return where the bar lies (px)."""
        return QRectF(round((self.width() - self.bar_px) / 2), round(self.height() * 0.62), self.bar_px, 36)

    def lines(self) -> list[Line]:
        """Return what is said above the bar."""
        rooms = [QRectF(24, 20 + 40 * index, self.width() - 48, 36) for index in range(len(SAID))]
        return [
            lettering.lay(f"ruler {index}", text, room, 20, self.theme.ink)
            for index, (text, room) in enumerate(zip(map(say, SAID), rooms, strict=True))
        ]

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and Right change the bar by a pixel, with Shift by ten; Enter accepts, Escape rejects."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.accept()
            return
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()), 0)
        if step == 0:
            super().keyPressEvent(event)
            return
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            step *= 10
        self.bar_px = round(min(max(self.bar_px + step, LOW * BAR_MM), HIGH * BAR_MM))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the bar, what to do, and a border."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self.theme.ground))
        bar = self.bar()
        painter.fillRect(bar, QColor(self.theme.inside))
        painter.setPen(QPen(QColor(self.theme.edge), 2))
        painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        lettering.paint(painter, self.lines())
        painter.end()
