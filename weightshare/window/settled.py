"""The page of settled readings over a practice window: for store-bought scales, which cannot do more."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QWidget

from weightshare.practice.option import PractiseOptions
from weightshare.practice.screen import Shape
from weightshare.practice.settledsession import OpenListener, SettledSession
from weightshare.practice.settledview import SettledView
from weightshare.tongue import mark, say
from weightshare.window.cover import Cover
from weightshare.window.errand import Errands
from weightshare.window.settledpaint import SettledPaint
from weightshare.window.theme import Theme

TICK_MS = 100
WHOLE, LEAVE = mark("That was my whole weight, both feet  (W)"), mark("Leave  (Esc)")
BUTTON_HIGH = 0.062
"""As part of the page's height."""
STARTING, LEAVING = mark("Looking for the scales \u2026"), mark("Letting go of the scales \u2026")


class SettledRunner(Errands):
    """Holds the session. The page reads `view()`; a thread opens and closes."""

    def __init__(self, open_listener: OpenListener) -> None:
        super().__init__("weightshare-settled", say("Press Esc, and try again."))
        self._open = open_listener
        self.session: SettledSession | None = None

    def start(self, options: PractiseOptions, first: Callable[[], None]) -> None:
        """Begin in the background, once `first` has returned: it waits until the scales are free."""
        self.trouble = ""

        def work() -> None:
            first()
            session = SettledSession(options, self._open)
            session.start()
            self.session = session

        self.hand_over(work)

    def stop(self) -> None:
        """Let go of the scales, in the background."""

        def work() -> None:
            session, self.session = self.session, None
            if session is not None:
                session.stop()

        self.hand_over(work)

    def view(self) -> SettledView:
        """Return the newest of everything; one that says why where there is no session."""
        session = self.session
        if session is not None:
            return session.view()
        return SettledView(self.trouble, Shape.CROSS) if self.trouble else SettledView(say(STARTING))


class SettledPage(Cover):
    """Covers its parent from `open_page` until `closed`. While it is open, no other session may hold the scales."""

    def __init__(
        self, parent: QWidget, board: QWidget, others: Sequence[QWidget], theme: Theme, open_listener: OpenListener
    ) -> None:
        super().__init__(parent, board, others, TICK_MS)
        self.runner, self._is_leaving = SettledRunner(open_listener), False
        self.paint = SettledPaint(theme, self)
        self.whole, self.leave_key = QPushButton(say(WHOLE), self), QPushButton(say(LEAVE), self)
        self.whole.clicked.connect(lambda _checked: self._take_weight())
        self.leave_key.clicked.connect(lambda _checked: self._leave())
        for button in (self.whole, self.leave_key):
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def open_page(self, options: PractiseOptions, theme: Theme, wait_until_free: Callable[[], None]) -> None:
        """Cover the parent, and listen to the sources of `options`.

        `wait_until_free` is called on another thread; it returns when nobody holds the scales any more.
        """
        self.paint.set_theme(theme)
        self._is_leaving = False
        self.runner.start(options, wait_until_free)
        self._cover()
        self.setFocus()
        self._timer.start()
        self.tick()

    def tick(self) -> None:
        """Show the newest view."""
        if not self._is_leaving:
            view = self.runner.view()
            self.paint.show_view(view)
            self.whole.setVisible(view.may_take_weight)
        elif not self.runner.is_busy:
            self._uncover()

    def _leave(self) -> None:
        """Let go of the scales; the page goes when that is done."""
        if self._is_leaving:
            return
        self._is_leaving = True
        self.whole.hide()
        self.runner.stop()
        self.paint.show_view(SettledView(say(LEAVING)))

    def _uncover(self) -> None:
        super()._uncover()
        self.closed.emit()

    def leave(self) -> bool:
        """Let go of the scales and wait for that; return whether it is done."""
        self._timer.stop()
        self.runner.stop()
        self.runner.wait()
        return not self.runner.is_busy

    def fit(self) -> None:
        """Take the parent's size."""
        self.resize(self._covered.size())
        self.paint.setGeometry(self.rect())
        high, margin = round(self.height() * BUTTON_HIGH), round(self.height() * 0.025)
        right, top = self.width() - margin, self.height() - high - margin
        for button in (self.leave_key, self.whole):
            button.setStyleSheet(f"font-size: {round(high * 0.42)}px;")
            wide = button.sizeHint().width() + high
            button.setGeometry(right - wide, top, wide, high)
            right -= wide + margin

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """W takes the newest reading for body weight, Escape leaves; no key reaches the window below."""
        event.accept()
        if event.isAutoRepeat() or self._is_leaving:
            return
        if event.key() == Qt.Key.Key_Escape:
            self._leave()
        elif event.key() == Qt.Key.Key_W:
            self._take_weight()

    def _take_weight(self) -> None:
        session = self.runner.session
        if session is not None and session.take_weight():
            self.tick()
