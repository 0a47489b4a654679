"""The settings that are made less often: a page over the window, all of it from the keyboard."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QFrame, QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from weightshare.exercise import Exercise, Surface
from weightshare.model import Side
from weightshare.practice.asked import DID
from weightshare.task import FULL_RAISE_MM, Goal, Settings
from weightshare.tongue import mark, say
from weightshare.window import choice, field
from weightshare.window.field import Choice

TITLE = mark("More settings: {exercise}")
NO_HEIGHT = mark("from the raises so far")
WORKING = {None: mark("the injured leg"), Side.LEFT: mark("the left leg"), Side.RIGHT: mark("the right leg")}
LOWEST_MM, HIGHEST_MM = FULL_RAISE_MM


class SettingsSheet(QFrame):
    """Covers its parent while it is open. It shows what belongs to the exercise, and keeps nothing."""

    changed = Signal()
    given_up = Signal()
    """Escape: the settings are to be as they were when the page was opened."""
    closed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._covered = parent
        self.setObjectName("caution")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.ceiling = field.words((say(choice.NONE), *choice.CEILINGS))
        self.grace = field.number(0.0, 60.0, 0.5, " s")
        self.one_sided = QCheckBox(say("no upper edge: more is fine"))
        self.working = Choice(WORKING)
        self.surface, self.basis = Choice(choice.SURFACES), Choice(choice.BASES)
        self.height_mm = field.number(LOWEST_MM - 1.0, HIGHEST_MM, 1.0, " mm")
        self.height_mm.setSpecialValueText(say(NO_HEIGHT))
        self.rest = field.number(0.0, 1800.0, 10.0, " s")
        self.blind = field.words((say(choice.NONE), "3"))
        self.exhaustion = QCheckBox(say("as many as can be done"))
        self.added = field.number(0.0, 4000.0, 10.0, " N")
        self.title, self.leaves = QLabel(), QLabel(say("Esc leaves everything as it was."))
        self.leaves.setObjectName("hint")
        self._refused = False
        """Something was refused since the last key."""
        self.button = QPushButton(say("Done  (Enter)"))
        self.button.setObjectName("key")
        self.button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._rows: list[tuple[QWidget, QLabel, QLabel]] = []
        self._why: dict[QWidget, str] = {}
        self._names: dict[str, QWidget] = {}
        """The settings by what they are called, in English."""
        self._lay_out()
        self._connect()
        self.hide()

    @property
    def measured(self) -> tuple[QWidget, ...]:
        """The settings, from the top down."""
        return tuple(widget for widget, _label, _why in self._rows)

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setColumnStretch(2, 1)
        for text, widget, why in (
            (
                mark("Cei&ling of load, injured side"),
                self.ceiling,
                say("in kg or in % of body weight; going over it is an alarm"),
            ),
            (mark("&Band"), self.one_sided, ""),
            (mark("&Grace"), self.grace, say("how long the share may be outside before a hold ends")),
            (mark("&Working leg"), self.working, say("the one that the heel is raised on")),
            (mark("Standing &on"), self.surface, ""),
            (mark("&Full raise"), self.height_mm, say("the heel's height; under half of it a raise does not count")),
            (mark("Re&petitions from"), self.basis, ""),
            (mark("&Rest between sets"), self.rest, ""),
            (mark("Sets without &help"), self.blind, say("numbers, as in 2, 3: no corridor, no figures, no sound")),
            (mark("How man&y"), self.exhaustion, say("a set goes on until it is ended, or a stopping rule is met")),
            (mark("&Added weight"), self.added, say("a pack or a vest; it is no body weight")),
        ):
            label, hint = QLabel(say(text)), QLabel(why)
            self._names[text.replace("&", "").partition(",")[0]] = widget
            label.setBuddy(widget)
            hint.setObjectName("hint")
            hint.setWordWrap(True)
            self._why[widget] = why
            row = grid.rowCount()
            for place, part in enumerate((label, widget, hint)):
                grid.addWidget(part, row, place)
            self._rows.append((widget, label, hint))
        column = QVBoxLayout(self)
        column.addWidget(self.title)
        column.addLayout(grid)
        column.addStretch(1)
        column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.leaves)
        self._column, self._grid = column, grid

    def _connect(self) -> None:
        for number in (self.grace, self.height_mm, self.rest, self.added):
            number.valueChanged.connect(lambda _value: self.changed.emit())
        for box in (self.working, self.surface, self.basis):
            box.currentIndexChanged.connect(lambda _index: self.changed.emit())
        for typed in (self.ceiling, self.blind):
            field.when_said(typed, self.changed.emit)
        for switch in (self.one_sided, self.exhaustion):
            switch.toggled.connect(lambda _checked: self.changed.emit())
        self.button.clicked.connect(lambda _checked: self.close_page())

    def open_page(self) -> None:
        """Cover the parent."""
        self.fit()
        self.show()
        self.raise_()
        self.ceiling.setFocus()

    def close_page(self) -> None:
        """Give the window back, unless something is wrong with what was typed."""
        self._refused = False
        for number in (self.grace, self.height_mm, self.rest, self.added):
            number.interpretText()
        self.changed.emit()
        if not self._refused:
            self.leave()

    def give_up(self) -> None:
        """Give the window back, its settings as they were before."""
        self.given_up.emit()
        self.leave()

    def complain(self, about: QWidget, text: str) -> None:
        """Say beside the setting `about` what is wrong with it, in place of what it is for."""
        self._refused = True
        self._show_hint(about, text)

    def content(self) -> None:
        """Say of no setting any more that it is wrong."""
        for widget, _label, _hint in self._rows:
            self._show_hint(widget, "")

    def _show_hint(self, about: QWidget, wrong: str) -> None:
        hint = next(hint for widget, _label, hint in self._rows if widget is about)
        hint.setText(wrong or self._why[about])
        state = "true" if wrong else "false"
        if hint.property("wrong") != state:
            hint.setProperty("wrong", state)
            hint.style().polish(hint)

    def fields(self) -> dict[str, QWidget]:
        """Return the settings by what they are called."""
        return dict(self._names)

    def leave(self) -> None:
        """Give the window back, whatever was typed."""
        if not self.isHidden():
            self.content()
            self.hide()
            self.closed.emit()

    def fit(self) -> None:
        """Take the parent's size, and letters to go with it."""
        size = self._covered.size()
        self.resize(size)
        side, text = max(24, size.width() // 12), max(14, size.height() // 40)
        self._column.setContentsMargins(side, text, side, text)
        self._grid.setVerticalSpacing(text // 2)
        self._grid.setHorizontalSpacing(text)
        self.title.setStyleSheet(f"font-size: {round(text * 1.5)}px; font-weight: 600;")
        self.setStyleSheet(f"QLabel, QComboBox, QSpinBox, QDoubleSpinBox, QCheckBox {{ font-size: {text}px; }}")
        self.button.setMinimumSize(text * 14, text * 3)

    def suit(self, exercise: Exercise) -> None:
        """Show what belongs to `exercise`."""
        self.title.setText(say(TITLE, exercise=say(DID[exercise])))
        shown = {
            self.grace: not exercise.is_repeated,
            self.working: exercise.is_single,
            self.surface: exercise.lifts_heels,
            self.height_mm: exercise.lifts_heels,
            self.basis: exercise.lifts_heels and exercise.is_repeated,
            **dict.fromkeys((self.rest, self.blind, self.exhaustion), exercise.is_repeated),
        }
        for parts in self._rows:
            for part in parts:
                part.setVisible(shown.get(parts[0], True))

    def settings(self, base: Settings) -> Settings:
        """Return `base` with what is set here; what is hidden is none of the exercise's.

        Raises OptionError where the ceiling's words say nothing.
        """
        height_mm = self.height_mm.value()
        shown = {widget for widget, label, _hint in self._rows if not label.isHidden()}
        height = None if height_mm < LOWEST_MM or self.height_mm not in shown else round(height_mm, 3)
        return replace(
            base,
            grace_s=round(self.grace.value(), 3),
            one_sided=self.one_sided.isChecked(),
            working=self.working.chosen if self.working in shown else None,
            surface=self.surface.chosen if self.surface in shown else Surface.FLOOR,
            basis=self.basis.chosen if self.basis in shown else None,
            reference_height_mm=height,
            ceiling=choice.ceiling_of(self.ceiling.currentText()),
            added_weight_N=round(self.added.value(), 3),
        )

    def goal(self, base: Goal) -> Goal:
        """Return `base` with what is set here. Raises OptionError where the words for blind sets say nothing."""
        return replace(
            base,
            rest_s=round(self.rest.value(), 3),
            blind_sets=choice.blind_of(self.blind.currentText()),
            to_exhaustion=self.exhaustion.isChecked(),
        )

    def show_values(self, settings: Settings, goal: Goal) -> None:
        """Show these values, without telling of a change."""
        for widget in self.measured:
            widget.blockSignals(True)
        field.say(self.ceiling, choice.ceiling_words(settings.ceiling))
        field.say(self.blind, choice.blind_words(goal.blind_sets))
        self.grace.setValue(settings.grace_s)
        self.one_sided.setChecked(settings.one_sided)
        self.height_mm.setValue(settings.reference_height_mm or LOWEST_MM - 1.0)
        for box, value in (
            (self.working, settings.working),
            (self.surface, settings.surface),
            (self.basis, settings.basis),
        ):
            box.choose(value)
        self.rest.setValue(goal.rest_s)
        self.exhaustion.setChecked(goal.to_exhaustion)
        self.added.setValue(settings.added_weight_N)
        self.suit(settings.exercise or Exercise.HOLD)
        for widget in self.measured:
            widget.blockSignals(False)

    def lock(self, locked: bool) -> None:
        """Hold fast what is measured against, or free it."""
        for widget in self.measured:
            if widget.isEnabled() is locked:
                widget.setEnabled(not locked)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter goes back, Escape gives up what was changed; other keys do nothing here."""
        refused, self._refused = self._refused, False
        if event.key() == Qt.Key.Key_Escape:
            self.give_up()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not refused:
            self.close_page()
        event.accept()
