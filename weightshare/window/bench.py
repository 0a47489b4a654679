"""The guided calibration: a page over the window that asks, leads from load to load, and shows what came of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from enum import Enum
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QWidget

from weightshare.errors import WeightshareError
from weightshare.model import Calibration
from weightshare.tongue import mark, say
from weightshare.window.benchfeed import BenchRunner, BenchWish, OpenBench
from weightshare.window.benchform import BenchForm
from weightshare.window.benchguide import BenchGuide
from weightshare.window.benchresult import BenchResult
from weightshare.window.benchscale import BenchScale, spoken, state_of, validity_words
from weightshare.window.benchsheet import KEY_HIGH, KEY_PART
from weightshare.window.cover import Cover
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.workbench.view import BenchView, Stage

TICK_MS = 33
GO_KEYS = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter)
TAKE = mark("Take it as it lies  (Space)")
ANEW = mark("Back  (Space)")
GO_ON = mark("Go on measuring  (Space)")
PRACTISE = mark("Go on to practice  (Space)")
KEY_LETTERS = 0.29
"""The size of the big key's letters, as part of its height."""
LEAVING = mark("Giving the scale back \u2026")


class Part(Enum):
    """Which part of the page is to be seen."""

    FORM = "form"
    GUIDE = "guide"
    RESULT = "result"
    SCALE = "scale"
    """How the scale stands."""
    LEAVING = "leaving"
    """The scale is being given back."""


class BenchPage(Cover):
    """Covers its parent from `open_page` until `closed`. While it is open, no session may hold the scale."""

    def __init__(
        self, parent: QWidget, board: QWidget, others: Sequence[QWidget], theme: Theme, open_bench: OpenBench
    ) -> None:
        super().__init__(parent, board, others, TICK_MS)
        self.runner, self.part, self.asks = BenchRunner(open_bench), Part.FORM, False
        self._wait_until_free: Callable[[], None] = lambda: None
        self.form, self.guide, self.result = BenchForm(self), BenchGuide(theme, self), BenchResult(theme, self)
        self.scale = BenchScale(theme, self)
        self._calibration: Calibration | None = None
        self.key = QPushButton("", self)
        self.key.setObjectName("key")
        self.key.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.key.clicked.connect(lambda _checked: self._go())
        self.form.begun.connect(self._begin)
        self.form.left.connect(self._leave)
        self.form.scale_asked.connect(self._show_scale)

    def open_page(
        self, source: str, calibration: Calibration | None, theme: Theme, wait_until_free: Callable[[], None]
    ) -> None:
        """Cover the parent, and ask how the scale at `source` is to be calibrated; `calibration` is the one in use.

        `wait_until_free` is called on another thread; it returns when nobody holds the scale any more.
        """
        self._wait_until_free, self._calibration = wait_until_free, calibration
        for painted in (self.guide, self.result, self.scale):
            painted.set_theme(theme)
        self._cover()
        self._show(Part.FORM)
        self.form.scale.setEnabled(calibration is not None)
        self.form.open_form(source, "" if calibration is None else validity_words(calibration, date.today())[1])

    @property
    def is_measuring(self) -> bool:
        """Whether something is being measured."""
        return self.is_open and self.part is Part.GUIDE

    def _show_scale(self) -> None:
        if self._calibration is not None:
            self.scale.show_state(state_of(self._calibration, date.today()))
            self._show(Part.SCALE)
            self._show_key(say(ANEW))
            self.setFocus()

    def _show_form(self) -> None:
        self._show(Part.FORM)
        self.form.masses.setFocus()

    def _begin(self, wish: BenchWish) -> None:
        self.asks = False
        self.runner.start(wish, self._wait_until_free)
        self._show(Part.GUIDE)
        self.setFocus()
        self._timer.start()
        self.tick()

    def tick(self) -> None:
        """Show the newest view."""
        if self.part is Part.LEAVING:
            if self.runner.is_idle:
                self._uncover()
            return
        view = self.runner.view()
        if view.stage is Stage.DONE and view.found is not None:
            self.asks = False
            self.result.show_view(view, valid_words(view.place))
            self._show(Part.RESULT)
        else:
            self.guide.show_view(view, asks=self.asks)
        self._show_key(self._key_text(view))

    def _key_text(self, view: BenchView) -> str:
        if self.part is Part.RESULT:
            return say(PRACTISE)
        if self.asks:
            return say(GO_ON)
        if view.stage is Stage.FAILED:
            return say(ANEW)
        return say(TAKE) if view.may_confirm else ""

    def _show_key(self, text: str) -> None:
        if self.key.text() != text:
            self.key.setText(text)
        if self.key.isHidden() is bool(text):
            self.key.setVisible(bool(text))

    def _show(self, part: Part) -> None:
        self.part = part
        for widget, parts in (
            (self.form, (Part.FORM,)),
            (self.guide, (Part.GUIDE, Part.LEAVING)),
            (self.result, (Part.RESULT,)),
            (self.scale, (Part.SCALE,)),
        ):
            if widget.isHidden() is (part in parts):
                widget.setVisible(part in parts)
        if part in (Part.FORM, Part.LEAVING):
            self.key.hide()

    def _go(self) -> None:
        """The big key."""
        if self.part is Part.RESULT:
            self._leave()
        if self.part is Part.SCALE:
            self._show_form()
        if self.part is not Part.GUIDE:
            return
        if self.asks:
            self.asks = False
        elif self.runner.view().stage is Stage.FAILED:
            self._timer.stop()
            self.runner.stop()
            self._show_form()
            return
        elif self.runner.view().may_confirm:
            self.runner.confirm()
        self.tick()

    def _escape(self) -> None:
        """Ask once, then give up; where nothing can be lost, leave at once."""
        idle = self.runner.view().stage in (Stage.FAILED, Stage.CONNECT)
        if self.part is Part.GUIDE and not self.asks and not idle:
            self.asks = True
            self.tick()
        elif self.part is Part.SCALE:
            self._show_form()
        else:
            self._leave()

    def _leave(self) -> None:
        """Give the scale back; the page goes when that is done."""
        if self.part is Part.FORM and self.runner.is_idle:
            self._uncover()
            return
        self.runner.stop()
        self.asks = False
        self.guide.show_view(BenchView(headline=say(LEAVING)))
        self._show(Part.LEAVING)
        self._timer.start()

    def _uncover(self) -> None:
        super()._uncover()
        self.closed.emit()

    def leave(self) -> bool:
        """Give the scale back and wait for that; return whether it is done."""
        self._timer.stop()
        return self.runner.leave()

    def fit(self) -> None:
        """Take the parent's size, and letters to go with it."""
        size = self._covered.size()
        self.resize(size)
        for widget in (self.form, self.guide, self.result, self.scale):
            widget.setGeometry(self.rect())
        text, side = max(15, size.height() // 38), max(24, size.width() // 14)
        self.form.fit(text, side)
        wide, high = round(size.width() * KEY_PART), round(size.height() * KEY_HIGH)
        margin = round(size.height() * 0.035)
        self.key.setGeometry(size.width() - wide - margin, size.height() - high - margin, wide, high)
        # its letters must not depend on which part was to be seen when it was first shown
        self.key.setStyleSheet(f"font-size: {round(high * KEY_LETTERS)}px;")
        self.key.raise_()

    def lines(self) -> list[Line]:
        """Return the painted lines of text of the part that is to be seen; none for the questions."""
        if self.part is Part.FORM:
            return []
        painted: dict[Part, BenchResult | BenchScale] = {Part.RESULT: self.result, Part.SCALE: self.scale}
        return painted.get(self.part, self.guide).lines()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Space goes on, Backspace goes back a step, Escape gives up; no key reaches the window below."""
        event.accept()
        if event.isAutoRepeat() or self.part in (Part.FORM, Part.LEAVING):
            return
        key = Qt.Key(event.key())
        if key is Qt.Key.Key_Escape:
            self._escape()
        elif key in GO_KEYS:
            self._go()
        elif self.asks:
            self.asks = False
            self.tick()
        elif key is Qt.Key.Key_Backspace and self.part is Part.GUIDE and self.runner.view().may_go_back:
            self.runner.back()
            self.tick()


def valid_words(place: str) -> str:
    """Return until when the calibration kept at `place` holds, in words; empty where the file says nothing of it."""
    from weightshare.records.calibration import read_calibration

    try:
        until = read_calibration(Path(place)).valid_until
    except (WeightshareError, OSError):
        return ""
    return "" if until is None else say("It is in force now, and valid until {day}.", day=spoken(until))
