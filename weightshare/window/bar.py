"""The settings along the window's lower edge. Each has a key (Alt and the underlined letter) and a visible focus."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.practice.option import LEAST_PERCENT, usual_percent
from weightshare.task import Goal, Settings
from weightshare.tongue import mark, number, plural, say
from weightshare.window import choice, field
from weightshare.window.field import Choice, Field

STANDING = ("steered", "steady", "shaky", "rail", "leaver", "quiet", "favouring")
PEOPLE = (*STANDING, "raiser", "weak", "tiring", "late", "deep")
"""The virtual people offered; any other source can be typed."""
ONE_LEG = (0.0, 100.0)
TWO_LEGS = (LEAST_PERCENT + 0.1, 99.9 - LEAST_PERCENT)
"""The limits of the target, percent: beyond them one leg stands alone."""
WRONG_PART = 0.4
"""What is wrong is said under its field, but begins no further to the right than at this part of the width."""


class SettingsBar(QFrame):
    """What is set most often: side, exercise, band, goal, source; sound, theme, ruler, About. It keeps nothing."""

    changed = Signal()
    """The injured side, the exercise, the band or the goal was set otherwise."""
    source_chosen = Signal(str)
    more_asked = Signal()
    sound_switched = Signal(bool)
    clinical_switched = Signal(bool)
    """True for the clinician's view."""
    theme_switched = Signal(bool)
    """True for dark."""
    ruler_asked = Signal()
    start_asked = Signal()
    calibration_asked = Signal()
    look_asked = Signal()
    """Saved sessions are to be looked at."""
    about_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("bar")
        self.injured = Choice({side: side.value for side in Side})
        self.exercise = Choice(choice.EXERCISES)
        self.target = field.number(*TWO_LEGS, 1.0, " %")
        self.tolerance = field.number(0.1, 50.0, 0.5, "")
        self.hold = field.number(1.0, 3600.0, 5.0, " s")
        self.holds, self.sets, self.repetitions = field.count(1, 100), field.count(1, 20), field.count(1, 100)
        self.tempo = field.words((say(choice.OWN_PACE), *choice.TEMPOS))
        self.tempo.setToolTip(say("Seconds up, at the top, down, and at the bottom, as in 1-1-3-1; or own pace"))
        self.source = field.words(tuple(f"rig:{name}" for name in PEOPLE))
        # as wide as its longest words where there is room; narrower before the window outgrows a small screen
        for box, width in ((self.exercise, 150), (self.tempo, 100), (self.source, 110)):
            box.setMinimumWidth(width)
        self.more = QPushButton(say("&More \u2026"))
        self.sound, self.dark = QCheckBox(), QCheckBox(say("&Dark"))
        self._name_sound(False)
        self.clinical = QCheckBox(say("Clinician's &view"))
        self.clinical.setToolTip(say("Say beside the figures what they are worth (V)"))
        self.ruler, self.about = QPushButton(say("R&uler")), QPushButton(say("&About"))
        self.calibrate, self.start = QPushButton(say("Cali&brate \u2026")), QPushButton(say("&Get started"))
        self.look = QPushButton(say("&Look back"))
        self.said, self.brief, self.wrong = QLabel(), QLabel(), QLabel()
        self.wrong.setObjectName("wrong")
        for text in (self.said, self.brief, self.wrong):
            text.setTextFormat(Qt.TextFormat.PlainText)
            text.setWordWrap(True)
        self._folded = False
        self._aimed = False
        """The target was set by hand since its kind of exercise was chosen."""
        self._injured_works = True
        self._of_holds = (Field(mark("&Hold goal"), self.hold), Field(mark("&Number of holds"), self.holds))
        self._of_sets = (
            Field(mark("S&ets"), self.sets),
            Field(mark("&Repetitions"), self.repetitions),
            Field(mark("Tem&po"), self.tempo),
        )
        self._lay_out()
        self._connect()
        self._suit()

    @property
    def measured(self) -> tuple[QWidget, ...]:
        """The settings that are held fast while practising."""
        of_goal = self.hold, self.holds, self.sets, self.repetitions, self.tempo
        return self.injured, self.exercise, self.target, self.tolerance, *of_goal, self.source

    @property
    def chosen(self) -> Exercise:
        """The exercise that is set."""
        return Exercise(self.exercise.chosen)

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(8)
        self._fields = (
            Field(mark("&Injured"), self.injured),
            Field(mark("E&xercise"), self.exercise),
            Field(mark("&Target"), self.target),
            Field(mark("\u00b1 p&oints"), self.tolerance),
            *self._of_holds,
            *self._of_sets,
            Field(mark("Sour&ce"), self.source),
        )
        for shown in self._fields:
            row.addWidget(shown, 1 if shown.widget is self.source else 0)
        row.addWidget(self.brief, 1)
        row.addLayout(self._lay_out_switches())
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 6, 16, 8)
        column.setSpacing(2)
        column.addLayout(row)
        column.addWidget(self.wrong)
        column.addWidget(self.said)
        self._column = column
        for text in (self.said, self.brief, self.wrong):
            text.hide()

    def _lay_out_switches(self) -> QVBoxLayout:
        """Switches in two rows, as high as the fields beside them; the upper one goes when the settings fold."""
        both = QVBoxLayout()
        both.setSpacing(2)
        both.addStretch(1)
        for switches in (
            (self.more, self.ruler, self.calibrate, self.start, self.look),
            (self.clinical, self.sound, self.dark, self.about),
        ):
            line = QHBoxLayout()
            line.setSpacing(2)
            line.addStretch(1)
            for switch in switches:
                line.addWidget(switch)
            both.addLayout(line)
        return both

    def _connect(self) -> None:
        self.injured.currentIndexChanged.connect(lambda _index: self.changed.emit())
        self.exercise.currentIndexChanged.connect(lambda _index: self._take_exercise())
        self.exercise.currentIndexChanged.connect(lambda _index: self.changed.emit())
        self.target.valueChanged.connect(lambda _value: self._take_target())
        for box in (self.target, self.tolerance, self.hold, self.holds, self.sets, self.repetitions):
            box.valueChanged.connect(lambda _value: self.changed.emit())
        field.when_said(self.tempo, self.changed.emit)
        field.when_said(self.source, lambda: self._choose(self.source.currentText()))
        self.more.clicked.connect(lambda _checked: self.more_asked.emit())
        self.sound.toggled.connect(self._name_sound)
        self.sound.toggled.connect(self.sound_switched)
        self.clinical.toggled.connect(self.clinical_switched)
        self.dark.toggled.connect(self.theme_switched)
        self.ruler.clicked.connect(lambda _checked: self.ruler_asked.emit())
        self.calibrate.clicked.connect(lambda _checked: self.calibration_asked.emit())
        self.start.clicked.connect(lambda _checked: self.start_asked.emit())
        self.look.clicked.connect(lambda _checked: self.look_asked.emit())
        self.about.clicked.connect(lambda _checked: self.about_asked.emit())

    def _suit(self) -> None:
        """Show what belongs to the exercise that is chosen; folded, no setting at all."""
        away = self._of_holds if self.chosen.is_repeated else self._of_sets
        settings: tuple[QWidget, ...] = *self._fields, self.more, self.ruler, self.calibrate, self.start, self.look
        shown: dict[QWidget, bool] = {widget: not self._folded and widget not in away for widget in settings}
        shown[self.wrong] = not self._folded and bool(self.wrong.text())
        shown |= {self.brief: self._folded, self.said: not self._folded and bool(self.said.text())}
        # what is shown before the rest is hidden would widen the window
        for widget in sorted(shown, key=shown.__getitem__):
            widget.setVisible(shown[widget])

    def _take_target(self) -> None:
        self._aimed = True
        self.target.setSpecialValueText("")

    def _take_exercise(self) -> None:
        """The target follows the exercise, but where somebody set it for work on as many legs."""
        self._suit()
        single = self.chosen.is_single
        before, kept_single = self.target.value(), self.target.maximum() == ONE_LEG[1]
        low, high = ONE_LEG if single else TWO_LEGS
        is_usual = self.chosen is not Exercise.HOLD and not self._aimed
        stays = not is_usual and kept_single is single and low <= before <= high
        self._aim(before if stays else self._usual_percent())
        self._aimed = self._aimed and stays

    def take_leg(self, *, injured_works: bool) -> None:
        """The other leg works alone: the injured one's usual share is nothing then."""
        changed, self._injured_works = self._injured_works is not injured_works, injured_works
        if changed and self.chosen.is_single and not self._aimed:
            self._aim(self._usual_percent())

    def _usual_percent(self) -> float:
        usual = usual_percent(self.chosen, injured_works=self._injured_works)
        return choice.DEFAULT_PERCENT if usual is None else usual

    def _aim(self, percent: float | None) -> None:
        """Show a target that nobody set here, within the limits of the exercise; None: there is none."""
        before = self.target.blockSignals(True)
        self.target.setRange(*(ONE_LEG if self.chosen.is_single else TWO_LEGS))
        self.target.setSpecialValueText(say(choice.NONE) if percent is None else "")
        self.target.setValue(self.target.minimum() if percent is None else percent)
        self.target.blockSignals(before)

    def _choose(self, text: str) -> None:
        if text.strip():
            self.source_chosen.emit(text.strip())

    def _name_sound(self, wanted: bool) -> None:
        self.sound.setText(say("&Sound on") if wanted else say("&Sound off"))

    def settings(self, base: Settings) -> Settings:
        """Return `base` with what is set here. Raises OptionError where the tempo's words say nothing."""
        untold = base.exercise is None and self.chosen is Exercise.HOLD
        return replace(
            base,
            injured=self.injured.chosen,
            exercise=None if untold else self.chosen,
            target_percent=None if self.target.specialValueText() else round(self.target.value(), 3),
            tolerance_percent=round(self.tolerance.value(), 3),
            tempo=choice.tempo_of(self.tempo.currentText()) if self.chosen.is_repeated else None,
        )

    def goal(self, base: Goal) -> Goal:
        """Return `base` with the goal as it is set here."""
        return replace(
            base,
            hold_s=round(self.hold.value(), 3),
            holds=self.holds.value(),
            sets=self.sets.value(),
            repetitions=self.repetitions.value(),
        )

    def show_values(self, settings: Settings, goal: Goal, source: str) -> None:
        """Show these values, without telling of a change."""
        for widget in self.measured:
            widget.blockSignals(True)
        self.injured.choose(settings.injured)
        self.exercise.choose(settings.exercise or Exercise.HOLD)
        self._aim(settings.target_percent)
        self._injured_works = settings.working_side is settings.injured
        self._aimed = settings.target_percent not in (None, self._usual_percent())
        self.tolerance.setValue(settings.tolerance_percent)
        self.hold.setValue(goal.hold_s)
        self.holds.setValue(goal.holds)
        self.sets.setValue(goal.sets)
        self.repetitions.setValue(goal.repetitions)
        field.say(self.tempo, choice.tempo_words(settings.tempo))
        field.say(self.source, source)
        self._suit()
        for widget in self.measured:
            widget.blockSignals(False)

    def lock(self, locked: bool) -> None:
        """Hold fast what is measured against, and fold it into one line that tells it; or free it."""
        for widget in self.measured:
            if widget.isEnabled() is locked:
                widget.setEnabled(not locked)
        if locked is not self._folded:
            self._folded = locked
            high = (2, 2) if locked else (6, 8)
            self._column.setContentsMargins(16, high[0], 16, high[1])
            self.brief.setText(self._told())
            self._suit()

    def _told(self) -> str:
        """Return what is set, in words."""
        band = f"{number(self.target.value(), 'g')} \u00b1 {number(self.tolerance.value(), 'g')} %"
        goal = plural("{n} hold of {hold:g} s", "{n} holds of {hold:g} s", self.holds.value(), hold=self.hold.value())
        if self.chosen.is_repeated:
            goal = plural(
                "{n} set of {repetitions}, {tempo}",
                "{n} sets of {repetitions}, {tempo}",
                self.sets.value(),
                repetitions=self.repetitions.value(),
                tempo=self.tempo.currentText(),
            )
        said = say("{injured} foot injured", injured=self.injured.chosen), self.exercise.currentText(), band, goal
        return "  \u00b7  ".join(said)

    def say(self, text: str) -> None:
        """Say something about this machine under the settings; empty: nothing."""
        self.said.setText(text)
        self.said.setVisible(bool(text) and not self._folded)

    def complain(self, text: str, about: QWidget | None = None) -> None:
        """Say under the field `about` what is wrong with it; empty: nothing."""
        shown = next((one for one in self._fields if one.widget is about), None)
        self.wrong.setIndent(0 if shown is None else min(shown.x(), round(self.width() * WRONG_PART)))
        self.wrong.setText(text)
        self.wrong.setVisible(bool(text) and not self._folded)

    def fields(self) -> dict[str, QWidget]:
        """Return the settings by what they are called."""
        return {one.name: one.widget for one in self._fields}
