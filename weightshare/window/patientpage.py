"""One patient's page: sessions, evidence and decision, progress, the weeks, decisions, who looked. By keys alone."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from operator import itemgetter

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QPushButton,
    QStackedWidget,
    QTabBar,
    QVBoxLayout,
    QWidget,
)

from weightshare.model import Side
from weightshare.practice.clinic.sight import Sight
from weightshare.practice.message import retell
from weightshare.records.evidence import Evidence
from weightshare.records.store.patient import Patient
from weightshare.records.store.ruling import Ruling
from weightshare.records.store.settled import Readings
from weightshare.records.store.trail import Step
from weightshare.records.store.visit import Visit
from weightshare.report.history import History
from weightshare.tongue import mark, plural, say
from weightshare.window.cover import Cover
from weightshare.window.patientevidence import EvidenceTab
from weightshare.window.patientprogress import ProgressTab, WeeksTab, say_trail
from weightshare.window.patientsides import SidesTab
from weightshare.window.patienttable import ENTER, Rows, Table
from weightshare.window.patientwords import (
    SESSION_HEADS,
    chapters_of,
    readings_cells,
    say_about,
    say_readings,
    say_ruling,
    say_who,
    session_cells,
)
from weightshare.window.theme import Theme

TICK_MS = 30
TABS = (
    mark("&Sessions"),
    mark("&Evidence"),
    mark("&Progress"),
    mark("Over the &weeks"),
    mark("&Decisions"),
    mark("Who l&ooked"),
    mark("Symme&try"),
)
SESSIONS, EVIDENCE, PROGRESS, WEEKS, DECISIONS, TRAIL, SIDES = range(len(TABS))
HINT = mark("Alt and a letter, or Ctrl+Tab, change what is shown. Enter looks back at a session, Esc goes to the list.")
DECISION_HEADS = mark("When"), mark("Signed by"), mark("Decided"), mark("Stages"), mark("Reason")
FIGURES = 2, 3, 4, 5, 6, 7


class PatientPage(Cover):
    """Covers its parent with one patient. It asks, and shows what it is given as it comes."""

    look_asked = Signal(object)
    """The Visit that is to be looked back at."""
    change_asked, practise_asked, morning_asked, ticked = Signal(), Signal(), Signal(), Signal()
    sides_asked = Signal(object)
    """The Visit whose sides are to be compared."""
    trail_asked = Signal()
    """Who looked is shown: it grows with every look, so it is read anew."""

    def __init__(self, parent: QWidget, board: QWidget, others: Sequence[QWidget], theme: Theme) -> None:
        super().__init__(parent, board, others, TICK_MS)
        self.sight: Sight | None = None
        self.rows: tuple[Visit | Readings, ...] = ()
        """What the table of sessions shows, row by row."""
        self._theme = theme
        self.title, self.about, self.said, self.hint = QLabel(), QLabel(), QLabel(), QLabel(say(HINT))
        self.said.setObjectName("alert")
        self.hint.setObjectName("hint")
        self.tabs, self.stack = QTabBar(), QStackedWidget()
        self.sessions = Table(Rows([say(head) for head in SESSION_HEADS], FIGURES), (9,))
        self.evidence, self.progress, self.weeks = EvidenceTab(), ProgressTab(theme), WeeksTab(theme)
        self.decisions = Table(Rows([say(head) for head in DECISION_HEADS]), (4,), broken=True)
        self.trail, self.sides = QListWidget(), SidesTab()
        self.practise, self.change = QPushButton(), QPushButton(say("&Change what is known \u2026"))
        self.morning = QPushButton()
        self.side, self.side_label = QComboBox(), QLabel(say("&Followed side"))
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        for text in TABS:
            self.tabs.addTab(say(text))
        self.tabs.setDrawBase(False)
        self.tabs.setExpanding(False)
        self.tabs.setUsesScrollButtons(False)
        self.tabs.setElideMode(Qt.TextElideMode.ElideNone)
        pages = self.sessions, self.evidence, self.progress, self.weeks, self.decisions, self.trail, self.sides
        for page in pages:
            self.stack.addWidget(page)
        self.practise.setObjectName("key")
        self.side.addItems([say(side) for side in Side])
        self.side_label.setBuddy(self.side)
        for label in (self.about, self.said):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        row = QHBoxLayout()
        for widget in (self.practise, self.side_label, self.side, self.change, self.morning):
            row.addWidget(widget)
        row.addStretch(1)
        column = QVBoxLayout(self)
        for above in (self.title, self.about, self.said):
            column.addWidget(above)
        column.addWidget(self.tabs, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.stack, 1)
        column.addLayout(row)
        column.addWidget(self.hint)
        self._column = column

    def _connect(self) -> None:
        self.tabs.currentChanged.connect(self._turn)
        self.sessions.opened.connect(self._look_back)
        self.practise.clicked.connect(lambda _checked: self.practise_asked.emit())
        self.change.clicked.connect(lambda _checked: self.change_asked.emit())
        self.morning.clicked.connect(lambda _checked: self.morning_asked.emit())

    def open_page(self, patient: Patient, theme: Theme) -> None:
        """Cover the parent with `patient`, of whom nothing is read yet."""
        self.sight, self.rows, self._theme = None, (), theme
        self.evidence.open_for(patient)
        self._show_head(patient, "")
        self.morning.hide()
        self.sessions.show_rows(())
        self.decisions.show_rows(())
        self.progress.show_trends((), theme)
        self.weeks.show_history(None, theme)
        self.trail.clear()
        self.tabs.setCurrentIndex(SESSIONS)
        self.say(say("One moment \u2026"))
        self.come_back()

    def come_back(self) -> None:
        """Cover the parent again, with what was shown."""
        self._cover()
        self._timer.start()
        self._turn(self.tabs.currentIndex())

    def tick(self) -> None:
        """Take what was done meanwhile."""
        self.ticked.emit()

    def say(self, text: str) -> None:
        """Say what goes on, or what went wrong; empty: nothing."""
        self.said.setText(retell(text))
        self.said.setVisible(bool(text))

    def _show_head(self, patient: Patient, stage: str) -> None:
        self.title.setText(say_who(patient))
        self.about.setText(say_about(patient, stage or patient.stage, datetime.now().date()))
        self.practise.setText(say("Practise this stage  (F5)") if patient.stage else say("Choose a stage  (F5)"))
        for widget in (self.side, self.side_label):
            widget.setVisible(patient.injured is None)

    @property
    def followed(self) -> Side:
        """Whose share is to be followed: the injured side's, or that which is chosen where there is not one."""
        known = None if self.sight is None else self.sight.patient.injured
        return known or list(Side)[self.side.currentIndex()]

    def show_sight(self, sight: Sight, stage: str, now: datetime) -> None:
        """Show what is known of the patient at once; `stage` in words."""
        self.sight = sight
        self._show_head(sight.patient, stage)
        self._show_sessions(None, now)
        self.morning.setVisible(sight.morning is not None)
        if sight.morning is not None:
            day = sight.morning.started_at[:10]
            self.morning.setText(say("Pain on the &morning after {day} \u2026", day=day))
        self.show_rulings(sight.rulings)
        self.progress.show_trends(sight.trends, self._theme)
        self.show_trail(sight.trail)
        self.say(" ".join(sight.troubles) if self.rows or sight.troubles else say("No session yet."))

    def show_trail(self, trail: Sequence[Step]) -> None:
        """Show who looked, the newest first."""
        self.trail.clear()
        self.trail.addItems([say_trail(one.at, one.who, one.what, one.detail) for one in reversed(trail)])

    def read_trail(self) -> None:
        """Ask for who looked, where that is shown."""
        if self.tabs.currentIndex() == TRAIL:
            self.trail_asked.emit()

    def show_history(self, history: History | None, now: datetime, trouble: str = "") -> None:
        """Show what the sessions' own files tell."""
        self.weeks.show_history(history, self._theme, trouble)
        if history is not None:
            self._show_sessions(history, now)

    def _show_sessions(self, history: History | None, now: datetime) -> None:
        sight, chapters = self.sight, chapters_of(history)
        if sight is None:
            return
        both: list[tuple[str, Visit | Readings]] = [(one.started_at, one) for one in sight.visits]
        both += [(some.began, some) for some in sight.readings]
        self.rows = tuple(one for _began, one in sorted(both, key=itemgetter(0), reverse=True))
        cells = [
            readings_cells(one) if isinstance(one, Readings) else session_cells(one, chapters.get(one.id), now)
            for one in self.rows
        ]
        self.sessions.show_rows(cells, self.sessions.row)
        count = plural("{n} session", "{n} sessions", len(self.rows))
        self.tabs.setTabToolTip(SESSIONS, count)

    def show_evidence(self, evidence: Evidence | None, trouble: str = "") -> None:
        """Show the evidence for the next stage, or why there is none."""
        self.evidence.show_evidence(evidence, trouble)

    def show_rulings(self, rulings: Sequence[Ruling]) -> None:
        """Show what was decided, the newest first."""
        self.decisions.show_rows([say_ruling(one) for one in reversed(rulings)])

    def _turn(self, tab: int) -> None:
        self.stack.setCurrentIndex(tab)
        first = {
            SESSIONS: self.sessions,
            EVIDENCE: self.evidence.table,
            PROGRESS: self.progress.list,
            DECISIONS: self.decisions,
            TRAIL: self.trail,
            SIDES: self.sides.list,
        }
        first.get(tab, self.tabs).setFocus()
        self.read_trail()
        if tab == SIDES:
            self._compare(self.sessions.row)

    def _compare(self, row: int) -> None:
        """Compare the sides of the session that is chosen among them."""
        one = self.rows[row] if 0 <= row < len(self.rows) else None
        if isinstance(one, Visit):
            self.sides.wait_for(one.started_at[:16].replace("T", " "))
            self.sides_asked.emit(one)
        else:
            self.sides.wait_for("")

    def _look_back(self, row: int) -> None:
        one = self.rows[row] if 0 <= row < len(self.rows) else None
        if isinstance(one, Readings):
            self.say(say("Settled readings have no course to look back at: {words}.", words=say_readings(one)))
        elif one is not None:
            self.look_asked.emit(one)

    def leave(self) -> None:
        """Give the window back."""
        if self.is_open:
            self._uncover()

    def fit(self) -> None:
        """Take the parent's size, and letters to go with it."""
        size = self._covered.size()
        self.resize(size)
        text = max(13, size.height() // 54)
        self._column.setContentsMargins(*(max(16, size.width() // 40), text // 2) * 2)
        self._column.setSpacing(text // 2)
        every = "QLabel, QLineEdit, QComboBox, QTableView, QHeaderView, QPushButton, QListWidget, QTabBar"
        self.setStyleSheet(f"{every} {{ font-size: {text}px; }}")
        self.title.setStyleSheet(f"font-size: {round(text * 1.7)}px; font-weight: 600;")
        self.about.setStyleSheet(f"font-size: {round(text * 1.2)}px;")
        self.practise.setStyleSheet(f"font-size: {round(text * 1.2)}px; padding: 0 {text}px;")
        self.practise.setMinimumHeight(round(text * 2.4))
        for table in (self.sessions, self.evidence.table, self.decisions):
            table.fit_rows()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """F5 practises, Ctrl+Tab turns the page, Escape goes back."""
        key = Qt.Key(event.key())
        event.accept()
        if key is Qt.Key.Key_F5:
            self.practise_asked.emit()
        elif key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab) and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            step = 1 if key is Qt.Key.Key_Tab else -1
            self.tabs.setCurrentIndex((self.tabs.currentIndex() + step) % len(TABS))
        elif key is Qt.Key.Key_Escape:
            if self.evidence.ready is not None:
                self.evidence.rest()
            else:
                self.leave()
                self.closed.emit()
        elif key in ENTER and isinstance(focus := self.focusWidget(), QPushButton):
            focus.click()
