"""Getting started: a page over the practice window that leads from unpacked scales to practice, by keys alone."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import replace

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QWidget

from weightshare.practice.start import Start
from weightshare.practice.startknown import Chosen
from weightshare.practice.startscreen import start_screen
from weightshare.practice.startview import StartStep, StartView
from weightshare.practice.startwords import ADDRESS_HINT
from weightshare.records.pair import Footwear, Pair
from weightshare.scales.finder import VIRTUAL, Finder
from weightshare.tongue import mark, say
from weightshare.window import startkeys
from weightshare.window.cover import Cover
from weightshare.window.startform import AddressField, WornForm
from weightshare.window.startpaint import BODY_BOTTOM, HINT_TOP, TROUBLE_BOTTOM, StartPaint
from weightshare.window.startrunner import OpenFinder, StartRunner
from weightshare.window.strip import PATIENTS
from weightshare.window.theme import Theme

TICK_MS = 50
TRY, ADDRESS, OTHERS = mark("Try it on virtual scales  (T)"), mark("Address \u2026  (A)"), mark("Other scales  (O)")
LEAVING, ALL_THE_SAME = mark("Letting go of the scales \u2026"), mark("Practise all the same  (Enter)")


class StartPage(Cover):
    """Covers its parent from `open_page` until `closed` or `chosen`. While it is open, no session may hold the scales.

    `closed`: it was left, and nothing was chosen.
    """

    chosen = Signal(object)
    """A Chosen: the scales to practise on, let go and remembered."""
    calibration_wanted = Signal(object)
    """A Trial whose scale is to be calibrated; `go_on` afterwards."""
    patients_asked = Signal()
    """The scales were let go, and the patients are to be shown: the page is opened anew afterwards."""

    def __init__(
        self,
        parent: QWidget,
        board: QWidget,
        others: Sequence[QWidget],
        theme: Theme,
        open_finder: OpenFinder = Finder,
    ) -> None:
        super().__init__(parent, board, others, TICK_MS)
        self.runner = StartRunner(open_finder)
        self.is_patients: Callable[[], bool] = lambda: False
        """Whether a patient is at the screen, who calibrates nothing."""
        self._then: Callable[[], None] | None = None
        """What comes when the scales were let go; None while none are being let go."""
        self.is_waiting = False
        """It stands aside while a scale is calibrated."""
        self.paint = StartPaint(theme, self)
        self.worn, self.address = WornForm(self), AddressField(self)
        self.key, self.virtual, self.ask, self.other, self.patients = (
            QPushButton(text, self) for text in ("", say(TRY), say(ADDRESS), say(OTHERS), say(PATIENTS))
        )
        self.key.setObjectName("key")
        self._connect()

    def _connect(self) -> None:
        acts = {
            self.key: self.go,
            self.virtual: self.try_virtual,
            self.ask: self.ask_address,
            self.other: self.choose_others,
            self.patients: self.ask_patients,
        }
        for button, act in acts.items():
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            button.clicked.connect(lambda _checked, act=act: act())

    @property
    def is_leaving(self) -> bool:
        """Whether the scales are being let go."""
        return self._then is not None

    @property
    def start(self) -> Start | None:
        """What is being set up; None where the page was never opened."""
        return self.runner.start

    def open_page(
        self, known: Pair | None, theme: Theme, wait_until_free: Callable[[], None], *, straight: bool = False
    ) -> None:
        """Cover the parent, and look for scales; `straight`: practise on the remembered pair as soon as it is found.

        `wait_until_free` is called on another thread; it returns when nobody holds the scales any more.
        """
        self.paint.set_theme(theme)
        self.runner.begin(known, wait_until_free, straight=straight)
        self.worn.show_footwear(Footwear() if known is None else known.footwear)
        self._cover()

    def go_on(self) -> None:
        """Cover the parent again, after a calibration, where it stood before."""
        self.is_waiting = False
        self.runner.begin_again()
        self._cover()

    def _cover(self) -> None:
        self._then = None
        self.address.hide()
        super()._cover()
        self.setFocus()
        self._timer.start()
        self.tick()

    def tick(self) -> None:
        """Do what goes by itself, and show how it stands."""
        start = self.runner.start
        if self._then is not None:
            self._end_leaving(self._then)
        elif start is not None:
            if not self.runner.is_busy:
                start.keep_up(time.monotonic())
            if start.ready is not None:
                self._practise(start.ready)
            else:
                start.is_patients = self.is_patients()
                view = start_screen(start)
                self._show(replace(view, trouble=self.runner.trouble or view.trouble))

    def _end_leaving(self, then: Callable[[], None]) -> None:
        if self.runner.is_busy:
            return
        if self.runner.trouble:
            self._show(
                replace(self.paint.shown, headline="", trouble=self.runner.trouble, key=say(ALL_THE_SAME), hint="")
            )
        else:
            self._uncover()
            then()

    def _show(self, view: StartView) -> None:
        asking = not self.address.isHidden()
        if asking:
            # the field lies where trouble is told: it is told above it then
            said = (view.trouble,) if view.trouble else view.words
            view = replace(view, words=said, trouble="", notes=(), hint=say(ADDRESS_HINT))
        self.paint.show_view(view)
        find = view.step is StartStep.FIND and self._then is None
        self._show_button(self.key, view.key)
        self._show_button(self.virtual, say(TRY) if find and not asking else "")
        self._show_button(self.ask, say(ADDRESS) if find and not view.looking and not asking else "")
        self._show_button(self.patients, say(PATIENTS) if find and not (asking or self.is_patients()) else "")
        self._show_button(self.other, say(OTHERS) if view.looking or view.step is StartStep.READY else "")
        if self.worn.isHidden() is (view.step is StartStep.PLACE):
            self.worn.setVisible(view.step is StartStep.PLACE)
            self.setFocus()

    def _show_button(self, button: QPushButton, text: str) -> None:
        if (button.text(), button.isHidden()) == (text, not text):
            return
        button.setText(text)
        button.setVisible(bool(text))
        self._place_buttons()

    # -- what keys and buttons do ----------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """No key reaches the window below."""
        event.accept()
        startkeys.press(self, event)

    def go(self) -> None:
        """The big key."""
        start, then = self.runner.start, self._then
        if then is not None:
            if self.runner.trouble and not self.runner.is_busy:
                self._uncover()
                then()
        elif start is not None:
            if start.step is StartStep.PLACE:
                told = self.worn.footwear()
                if isinstance(told, str):
                    start.trouble = told
                    return
                start.footwear = told
            if start.go():
                self._practise(start.chosen())

    def _practise(self, chosen: Chosen) -> None:
        self.let_go(lambda: self.chosen.emit(chosen), chosen)

    def try_virtual(self) -> None:
        """Practise on virtual scales."""
        self._practise(Chosen((VIRTUAL,)))

    def choose_others(self) -> None:
        """Choose other scales than those that are remembered."""
        if self.runner.start is not None and self._then is None:
            self.runner.start.others()

    def ask_address(self) -> None:
        """Ask for the address of a scale that is not found by itself."""
        if self.runner.start is not None:
            self.runner.start.trouble = ""
        self.address.open_field()
        self._place_buttons()

    def ask_patients(self) -> None:
        """Let go of the scales, and show the patients."""
        self.let_go(self.patients_asked.emit)

    def close_address(self, *, given_up: bool) -> None:
        """Take the address that was typed, unless it is `given_up`; one that is none stays, to be put right."""
        start = self.runner.start
        if start is not None and (given_up or start.add(self.address.box.text())):
            start.trouble = ""
            self.address.hide()
            self.setFocus()

    def calibrate(self, start: Start) -> None:
        """Have the marked scale calibrated; the page comes back after that."""
        trial = start.marked_trial
        if trial is not None and not self.is_patients():
            self.is_waiting = True
            self.let_go(lambda: self.calibration_wanted.emit(trial))

    def let_go(self, then: Callable[[], None], chosen: Chosen | None = None) -> None:
        """Let go of the scales; `then` comes when that is done."""
        if self._then is None:
            self._then = then
            self.runner.stop(chosen)
            self.address.hide()
            self._show(replace(self.paint.shown, headline=say(LEAVING), trouble="", key="", hint=""))

    def _uncover(self) -> None:
        self._then = None
        super()._uncover()

    def leave(self) -> bool:
        """Let go of the scales and wait for that; return whether it is done."""
        self._timer.stop()
        self.runner.stop()
        self.runner.wait()
        return not self.runner.is_busy

    # -- where things are ------------------------------------------------------------------------------------------

    def fit(self) -> None:
        """Take the parent's size."""
        self.resize(self._covered.size())
        self.paint.setGeometry(self.rect())
        text, high = max(13, round(self.height() * 0.027)), self.height()
        room = self.paint.list_room()
        room.setTop(room.bottom() - room.height() * 0.36)
        self.worn.fit(room, text)
        below = QRectF(room.left(), high * (BODY_BOTTOM + 0.008), self.width() * 0.6, high * 0.07)
        self.address.fit(below, text)
        self._place_buttons()

    def _place_buttons(self) -> None:
        top, bottom = round(self.height() * (TROUBLE_BOTTOM + 0.008)), round(self.height() * (HINT_TOP - 0.008))
        high, margin = bottom - top, round(self.height() * 0.035)
        right, left = self.width() - margin, margin
        for button in (self.key, self.virtual, self.ask, self.other, self.patients):
            big = button is self.key
            button.setStyleSheet(f"font-size: {round(high * (0.42 if big else 0.32))}px;")
            wide = button.sizeHint().width() + high // 2
            if button.isHidden():
                continue
            button.setGeometry(right - wide if big else left, top, wide, high)
            left += 0 if big else wide + margin // 2
            button.raise_()
