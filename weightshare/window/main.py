"""The practice window: it shows screens, turns keys into steps, and owns nothing that is worth saving."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from weightshare.practice import words
from weightshare.practice.flow import Action, Flow
from weightshare.practice.option import PractiseOptions
from weightshare.practice.screen import Screen
from weightshare.practice.tone import CueTeller
from weightshare.practice.view import LiveView
from weightshare.task import Goal, Settings
from weightshare.window import choice, complaint, keys
from weightshare.window.annex import Annex
from weightshare.window.board import Board
from weightshare.window.caution import CautionPage
from weightshare.window.desk import Desk
from weightshare.window.door import Door
from weightshare.window.evidence import EvidenceStrip
from weightshare.window.feed import OpenFeed, Order, Sides, Sources, tell
from weightshare.window.look import Look
from weightshare.window.notice import NoticeBar
from weightshare.window.pace import Pace
from weightshare.window.recovery import Recovery
from weightshare.window.runner import Runner
from weightshare.window.sound import SoundOutput
from weightshare.window.store import Store
from weightshare.window.theme import THEMES
from weightshare.window.ward import Ward, make_way

if TYPE_CHECKING:
    from weightshare.window.bench import BenchPage
    from weightshare.window.benchfeed import OpenBench

NEW_PERSON_MS = 600
"""How long the settings must rest before a virtual person is told of them: it starts its visit over."""
POLL_MS = 4
"""How often the newest view is looked at, ms: a fourth of a frame at 60 Hz, so that a sample waits for no frame."""


class PracticeWindow(QWidget):
    """One window, one session at a time. A timer looks for news, and paints at the display's rate at most.

    `greets`: it opens with getting started, or with the search for the pair of scales that is remembered.
    """

    def __init__(
        self,
        settings: Settings,
        goal: Goal,
        sources: Sources,
        open_feed: OpenFeed,
        store: Store,
        *,
        sides: Sides = None,
        recovery: Recovery | None = None,
        open_bench: OpenBench | None = None,
        greets: bool = False,
        order: Order | None = None,
    ) -> None:
        super().__init__()
        self._open_bench = open_bench
        self.store, self.runner, self.recovery = store, Runner(open_feed), recovery
        self.flow = Flow(settings, goal, sources, sides)
        self.screen_shown: Screen | None = None
        self.sound, self._cues = SoundOutput(), CueTeller()
        self.options: PractiseOptions | None = None
        """Where what comes of it is kept, and whether it is; None: nothing of settled readings is."""
        self._started = False
        self._build(order or Order(), greets=greets)
        self._timer = QTimer(self)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._poll)
        self._anew = QTimer(self)
        self._anew.setSingleShot(True)
        self._anew.timeout.connect(self.restart)
        self.tick()

    def _build(self, order: Order, *, greets: bool) -> None:
        self.setObjectName("window")
        self.setWindowTitle("weightshare")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        theme = THEMES[self.store.theme]
        self.board = Board(theme, self.store.px_per_mm(self.screen()))
        self.desk, self.trouble, self.notice = Desk(self), NoticeBar(), NoticeBar()
        self.bar = self.desk.bar
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.evidence = EvidenceStrip()
        self.ward = Ward(self, order)
        for widget in (self.notice, self.trouble, self.ward.strip, self.board, self.evidence, self.bar):
            column.addWidget(widget, 1 if widget is self.board else 0)
        self.cautions = CautionPage(self, self.bar, self.board)
        self._annex = Annex(self, self.board, (self.bar, self.notice, self.trouble), self._open_bench, self.restart)
        self.door = Door(self, self._annex, greets=greets)
        self.desk.show_values(self.flow.settings, self.flow.goal, self.flow.sources)
        self.look = Look(self, self.board, self.bar, self.store, self.sound, evidence=self.evidence)
        self._connect()
        self.look.fit()
        self.board.setFocus()

    def _connect(self) -> None:
        self.desk.changed.connect(self._take_settings)
        self.desk.sheet.closed.connect(self.board.setFocus)
        self.bar.source_chosen.connect(self._take_source)
        self.bar.about_asked.connect(self.cautions.open_page)
        self.bar.calibration_asked.connect(self.open_calibration)
        self.bar.start_asked.connect(self.door.open_page)
        self.board.key.clicked.connect(lambda _checked: self.go())
        self.cautions.closed.connect(self._cautions_closed)
        self.notice.left.connect(self.board.setFocus)

    @property
    def is_covered(self) -> bool:
        """Whether a page lies over the window."""
        over = self.ward.is_open or self._annex.is_open
        return over or not self.desk.sheet.isHidden() or not self.cautions.isHidden()

    @property
    def calibration(self) -> BenchPage:
        """The page of the guided calibration."""
        return self._annex.page

    def showEvent(self, event: QShowEvent) -> None:
        """Paint first; open the session and the sound after that."""
        super().showEvent(event)
        if not self._started:
            self._started = True
            self._pace = Pace(1.0 / max(30.0, self.screen().refreshRate()))
            self._timer.start(POLL_MS)
            QTimer.singleShot(0, self, self._start)
            if not self.store.cautions_read:
                self.cautions.open_page()

    def _start(self) -> None:
        # where no window manager runs, nobody else hands the keyboard to the window
        self.activateWindow()
        self.begin()
        if self.recovery is not None:
            self.recovery.search()
        if self.options is not None and not self.ward.is_void:
            self.ward.teller.begin(self.options.save)
        self.sound.open()
        self.look.say_of_machine()

    def begin(self) -> None:
        """Come to the scales, unless it is not known what is to be done on them."""
        if not (self.ward.begin() or self._annex.is_open or self.door.open_first()):
            self.restart()

    def move_to(self, sources: Sources, sides: Sides) -> None:
        """Practise on other scales from now on."""
        self.flow = Flow(self.flow.settings, self.flow.goal, sources, sides)
        self.restart()
        self.board.setFocus()

    def restart(self) -> None:
        """A new session on the same scales: new links, new zero, new weighing."""
        self._anew.stop()
        before, self._cues = self.flow, CueTeller()
        self.flow = Flow(before.settings, before.goal, before.sources, before.sides)
        self.runner.start(before.sources, before.sides, before.settings, before.goal)

    def open_calibration(self) -> None:
        """End the session, and calibrate its scale; a new one begins after that. Not while practising; no patient."""
        if self.flow.locked or self.ward.is_shut:
            return
        self._anew.stop()
        gauge = self.runner.view().gauge
        in_use = None if gauge is None else gauge.calibration
        self.runner.release()
        self.calibration.open_page(self.flow.source, in_use, self.board.theme, self.runner.wait)

    def open_settled(self) -> None:
        """Show the settled readings of store-bought scales instead; a session is tried again after that."""
        self._anew.stop()
        self.runner.release()
        flow, options = self.flow, self.options or PractiseOptions(self.flow.settings, record=False)
        kept = self.ward.order.charge.keep(options)
        asked = replace(kept, settings=flow.settings, sources=flow.sources, sides=flow.sides, calibrations=())
        self._annex.open_settled(asked, self.runner.wait)

    def _poll(self) -> None:
        view = self.runner.view()
        due = self._pace.is_due(view.snapshot.time_s, time.monotonic())
        if due:
            self.tick(view)
        self._timer.setInterval(self._pace.rest_ms if due else POLL_MS)

    def tick(self, view: LiveView | None = None) -> None:
        """Show `view`, or the newest; act where the session came to its end; nothing while a scale is calibrated."""
        if self.ward.follow_aside(self._annex):
            return
        feed, ended = self.runner.feed, self.runner.ended
        if ended is not None:
            self.flow.place, self.flow.trouble, self.flow.last = ended.place, ended.trouble, ended.last
            self.flow.findings = ended.findings
        self.flow.silent = not (self.sound.wanted and self.sound.is_open)
        self.flow.clinical = self.look.follow(patient=self.ward.is_shut)
        over = feed is not None and feed.is_over
        # a view that was taken before does not have the end yet
        view = self.runner.view() if view is None or over else view
        screen, action = self.ward.home.follow(view, self.flow.update(view))
        if over and self.flow.end() is Action.FINISH:
            screen, action = self.flow.update(view)[0], Action.FINISH
        self.act(action)
        self.screen_shown = screen
        self.desk.lock(self.flow.locked or self.ward.is_shut)
        self.ward.follow()
        self._show_trouble(screen.trouble)
        if screen.alarm is not None:
            make_way(self)
        self.board.show_screen(screen)
        self.evidence.show_screen(screen)
        if self.recovery is not None:
            self.recovery.offer_on(self.notice)
        self._sound(screen)

    def _sound(self, screen: Screen) -> None:
        if (cue := self._cues.push(screen, time.monotonic())) is not None:
            self.sound.play(cue)
        self.sound.beat(screen.pulse)
        self.look.speak(screen, time.monotonic())

    def go(self) -> None:
        """The big key."""
        self.act(Action.NOTHING if self.ward.alone.holds_back() else self.flow.press())

    def act(self, action: Action) -> None:
        """Do what the flow asks for."""
        if action is Action.FINISH:
            self.runner.finish()
        elif action is Action.AGAIN:
            self.restart()
        elif action is Action.CLOSE:
            self.close()
        elif (feed := self.runner.feed) is not None and tell(feed, action):
            self.board.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Keys that no field took."""
        if not keys.press(self, event):
            super().keyPressEvent(event)

    def _take_settings(self) -> None:
        after = self.desk.values(*(before := (self.flow.settings, self.flow.goal)))
        if after is None or after == before or not self.flow.change(*after):
            return
        if words.needs_a_new_person(self.flow.source, before, after):
            self._anew.start(NEW_PERSON_MS)
        elif self.runner.feed is not None:
            self.runner.feed.change(*after)

    def _take_source(self, text: str) -> None:
        if text == choice.sources_words(self.flow.sources) or self.flow.locked:
            return
        if sources := self.desk.sources_of(text):
            self.move_to(sources, None)

    def _show_trouble(self, said: str) -> None:
        if self._annex.should_settle(said, self.flow.sources):
            self.open_settled()
        if self.trouble.follow(complaint.at_hand(said), (complaint.again(), self.restart)):
            self.board.setFocus()

    def _cautions_closed(self) -> None:
        self.store.cautions_read = True
        self.board.setFocus()
        if not self.ward.begin():
            self.door.open_first()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep an open page of cautions over everything."""
        super().resizeEvent(event)
        self.look.fit()
        self.cautions.fit()
        self.desk.sheet.fit()
        self.ward.fit()
        self._annex.fit()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Leave in order: no more ticks, the session closed and recorded, the sound silent."""
        self._timer.stop()
        self._anew.stop()
        self.sound.close()
        self._annex.leave()
        self.runner.leave()
        self.ward.leave()
        if self.recovery is not None:
            self.recovery.leave()
        self.store.flush()
        super().closeEvent(event)
