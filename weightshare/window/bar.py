"""The settings along the window's lower edge. Each has a key (Alt and the underlined letter) and a visible focus."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDoubleSpinBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from weightshare.model import Side
from weightshare.task import Goal, Settings

PEOPLE = ("steered", "steady", "shaky", "rail", "leaver", "quiet", "favouring")
"""The virtual people offered; any other source can be typed."""


class SettingsBar(QFrame):
    """Injured side, band, goal, source; sound, theme, ruler, About. It keeps nothing: it tells what was set."""

    changed = Signal()
    """The injured side, the band or the goal was set otherwise."""
    source_chosen = Signal(str)
    sound_switched = Signal(bool)
    theme_switched = Signal(bool)
    """True for dark."""
    ruler_asked = Signal()
    about_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("bar")
        self.injured = QComboBox()
        self.injured.addItems([side.value for side in Side])
        self.target = _number(0.0, 100.0, 1.0, " %")
        self.tolerance = _number(0.1, 50.0, 0.5, "")
        self.grace = _number(0.0, 60.0, 0.5, " s")
        self.hold = _number(1.0, 3600.0, 5.0, " s")
        self.holds = QSpinBox()
        self.holds.setRange(1, 100)
        self.holds.setKeyboardTracking(False)
        self.source = QComboBox()
        self.source.setEditable(True)
        self.source.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.source.addItems([f"rig:{name}" for name in PEOPLE])
        self.source.setMinimumWidth(230)
        self.sound, self.dark = QCheckBox(), QCheckBox("&Dark")
        self._name_sound(False)
        self.ruler, self.about = QPushButton("R&uler"), QPushButton("&About")
        self.said = QLabel()
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        self._lay_out()
        self._connect()

    @property
    def measured(self) -> tuple[QWidget, ...]:
        """The settings that are held fast while practising."""
        return self.injured, self.target, self.tolerance, self.grace, self.hold, self.holds, self.source

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(10)
        for text, widget in (
            ("&Injured side", self.injured),
            ("&Target", self.target),
            ("T&olerance \u00b1", self.tolerance),
            ("&Grace", self.grace),
            ("&Hold goal", self.hold),
            ("&Number of holds", self.holds),
            ("Sour&ce", self.source),
        ):
            row.addLayout(_labelled(text, widget))
        row.addStretch(1)
        for switch in (self.sound, self.dark, self.ruler, self.about):
            row.addWidget(switch, 0, Qt.AlignmentFlag.AlignBottom)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 6, 16, 8)
        column.setSpacing(2)
        column.addLayout(row)
        column.addWidget(self.said)
        self.said.hide()

    def _connect(self) -> None:
        self.injured.currentIndexChanged.connect(lambda _index: self.changed.emit())
        for number in (self.target, self.tolerance, self.grace, self.hold, self.holds):
            number.valueChanged.connect(lambda _value: self.changed.emit())
        self.source.textActivated.connect(self._choose)
        line = self.source.lineEdit()
        if line is not None:
            line.editingFinished.connect(lambda: self._choose(self.source.currentText()))
            line.editingFinished.connect(self._show_source_from_start)
        self.sound.toggled.connect(self._name_sound)
        self.sound.toggled.connect(self.sound_switched)
        self.dark.toggled.connect(self.theme_switched)
        self.ruler.clicked.connect(lambda _checked: self.ruler_asked.emit())
        self.about.clicked.connect(lambda _checked: self.about_asked.emit())

    def _choose(self, text: str) -> None:
        if text.strip():
            self.source_chosen.emit(text.strip())

    def _show_source_from_start(self) -> None:
        """A long address is told apart by its beginning, not by the end that the cursor stands at."""
        line = self.source.lineEdit()
        if line is not None:
            line.home(False)

    def _name_sound(self, wanted: bool) -> None:
        self.sound.setText("&Sound on" if wanted else "&Sound off")

    def settings(self, base: Settings) -> Settings:
        """Return `base` with the injured side and the band as they are set here."""
        return replace(
            base,
            injured=Side(self.injured.currentText()),
            target_percent=round(self.target.value(), 3),
            tolerance_percent=round(self.tolerance.value(), 3),
            grace_s=round(self.grace.value(), 3),
        )

    def goal(self) -> Goal:
        """Return the goal as it is set here."""
        return Goal(hold_s=round(self.hold.value(), 3), holds=self.holds.value())

    def show_values(self, settings: Settings, goal: Goal, source: str) -> None:
        """Show these values, without telling of a change."""
        for widget in self.measured:
            widget.blockSignals(True)
        self.injured.setCurrentText(settings.injured.value)
        if settings.target_percent is not None:
            self.target.setValue(settings.target_percent)
        self.tolerance.setValue(settings.tolerance_percent)
        self.grace.setValue(settings.grace_s)
        self.hold.setValue(goal.hold_s)
        self.holds.setValue(goal.holds)
        self.source.setCurrentText(source)
        self._show_source_from_start()
        for widget in self.measured:
            widget.blockSignals(False)

    def lock(self, locked: bool) -> None:
        """Hold fast what is measured against, or free it."""
        for widget in self.measured:
            if widget.isEnabled() is locked:
                widget.setEnabled(not locked)

    def say(self, text: str) -> None:
        """Say something about this machine under the settings; empty: nothing."""
        self.said.setText(text)
        self.said.setVisible(bool(text))


def _number(low: float, high: float, step: float, suffix: str) -> QDoubleSpinBox:
    box = QDoubleSpinBox()
    box.setRange(low, high)
    box.setSingleStep(step)
    box.setDecimals(1)
    box.setSuffix(suffix)
    box.setKeyboardTracking(False)
    return box


def _labelled(text: str, widget: QWidget) -> QVBoxLayout:
    column = QVBoxLayout()
    column.setSpacing(2)
    label = QLabel(text)
    label.setBuddy(widget)
    column.addWidget(label)
    column.addWidget(widget)
    return column
