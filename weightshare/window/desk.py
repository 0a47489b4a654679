"""All settings in one: the bar along the window's edge and the page behind it, as Settings and Goal."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication, QWidget

from weightshare.errors import WeightshareError
from weightshare.practice.option import check_practised
from weightshare.scales.source import RigSource, parse_source
from weightshare.task import Goal, Settings, check_together
from weightshare.tongue import mark, say
from weightshare.window import choice, complaint
from weightshare.window.bar import SettingsBar
from weightshare.window.feed import Sources
from weightshare.window.field import Count, Number
from weightshare.window.sheet import SettingsSheet

STAYS = mark("It stays as it was.")


class Desk(QObject):
    """Tells when something was set otherwise; what is wrong with it is said beside it, in words.

    What is wrong stays to be put right while its field has the keyboard; when it is left, what is in force comes back.
    """

    changed = Signal()

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.bar, self.sheet = SettingsBar(), SettingsSheet(window)
        self._in_force: tuple[Settings, Goal, Sources] | None = None
        self._before: tuple[Settings, Goal, Sources] | None = None
        """What was in force when the page was opened."""
        self._wrong: QWidget | None = None
        self._refused = False
        self.bar.changed.connect(self._changed)
        self.sheet.changed.connect(self._changed)
        self.bar.more_asked.connect(self._open)
        self.sheet.given_up.connect(self._go_back)
        self.sheet.closed.connect(lambda: self.bar.setEnabled(True))
        for number in self._numbers():
            number.refused.connect(partial(self._refuse, number))
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._follow_focus)

    def show_values(self, settings: Settings, goal: Goal, sources: Sources) -> None:
        """Show these values, which are in force, without telling of a change."""
        self._in_force = settings, goal, sources
        self.bar.show_values(settings, goal, choice.sources_words(sources))
        self.sheet.show_values(settings, goal)

    def values(self, settings: Settings, goal: Goal) -> tuple[Settings, Goal] | None:
        """Return `settings` and `goal` with all that is set here; None where something is wrong, which is said."""
        try:
            made = self.sheet.settings(self.bar.settings(settings)), self.sheet.goal(self.bar.goal(goal))
            check_practised(check_together(made[0]))
        except WeightshareError as error:
            self._say(str(error))
            return None
        self._content()
        if self._in_force is not None:
            self._in_force = *made, self._in_force[2]
        return made

    def sources_of(self, words: str) -> Sources | None:
        """Return the sources that `words` name; None where one cannot be what it says, which is said."""
        try:
            sources = choice.sources_of(words)
            if self._in_force is None:
                return sources
            settings, goal, _before = self._in_force
            for source in sources:
                _try(source, settings, goal)
        except WeightshareError as error:
            self._say(str(error), self.bar.source)
            return None
        self._content()
        self._in_force = settings, goal, sources
        return sources

    def lock(self, locked: bool) -> None:
        """Hold fast what is measured against, or free it."""
        self.bar.lock(locked)
        self.sheet.lock(locked)

    def may_leave(self, *, given_up: bool) -> bool:
        """Return whether the keyboard may leave a field: it may not, once, where something was just refused.

        `given_up`: what was typed is to be forgotten.
        """
        refused, self._refused = self._refused, False
        if given_up:
            self.give_up()
        return given_up or not refused

    def give_up(self) -> None:
        """Show what is in force, whatever was typed, and say nothing of it any more."""
        self._content()
        self._restore()

    def _open(self) -> None:
        # its keys would mean two things
        self.bar.setEnabled(False)
        self._before = self._in_force
        self.sheet.open_page()

    def _go_back(self) -> None:
        if self._before is not None and self._before != self._in_force:
            self.show_values(*self._before)
            self.changed.emit()
        self.give_up()

    def _changed(self) -> None:
        self.bar.take_leg(injured_works=self.sheet.working.chosen in (None, self.bar.injured.chosen))
        self.sheet.suit(self.bar.chosen)
        self.changed.emit()

    def _numbers(self) -> Iterator[Number | Count]:
        for widget in (*self.bar.measured, *self.sheet.measured):
            if isinstance(widget, (Number, Count)):
                yield widget

    def _refuse(self, number: Number | Count, value: float) -> None:
        """Say that `value` is beyond the limits of the field `number`, which shows again what it had."""
        name = next(name for name, widget in self._fields().items() if widget is number)
        said = complaint.beyond(name, value, number.limits, number.suffix())
        if number is self.bar.target and self._in_force is not None and 0.0 <= value <= 100.0:
            try:
                check_practised(replace(self._in_force[0], exercise=self.bar.chosen, target_percent=value))
            except WeightshareError as error:
                said = str(error)
        self._say(said, number)

    def _fields(self) -> dict[str, QWidget]:
        return {**self.bar.fields(), **self.sheet.fields()}

    def _say(self, said: str, about: QWidget | None = None) -> None:
        """Say what is wrong beside the field `about`, or that of the option named first which is to be seen."""
        fields = self._fields()
        named = [fields.get(complaint.FIELDS.get(option, "")) for option in complaint.options_of(said)]
        seen = [widget for widget in (about, *named) if widget is not None]
        on_page = [widget for widget in seen if widget in self.sheet.measured]
        self._refused, text = True, complaint.plain(said)
        if on_page and not self.sheet.isHidden():
            self._wrong = on_page[0]
            self.sheet.complain(on_page[0], text)
        else:
            self._wrong = seen[0] if seen else None
            self.bar.complain(text, self._wrong)

    def _content(self) -> None:
        self._wrong, self._refused = None, False
        self.bar.complain("")
        self.sheet.content()

    def _restore(self) -> None:
        if self._in_force is not None:
            self.show_values(*self._in_force)

    def _follow_focus(self, left: QWidget | None, _entered: QWidget | None) -> None:
        """Where a field is left with something wrong in it, what is in force comes back."""
        wrong = self._wrong
        if wrong is None or left is None or not (left is wrong or wrong.isAncestorOf(left)):
            return
        said = self.bar.wrong.text()
        self._wrong, self._refused = None, False
        self._restore()
        if wrong not in self.sheet.measured:
            self.bar.complain(f"{said}. {say(STAYS)}", wrong)


def _try(source: str, settings: Settings, goal: Goal) -> None:
    """Raise WeightshareError where `source` cannot be what it says."""
    parsed = parse_source(source)
    if isinstance(parsed, RigSource):
        from weightshare.scales.rig.wish import make_cast

        make_cast(parsed.spec, settings, goal, 0.0)
