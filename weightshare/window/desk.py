"""All settings in one: the bar along the window's edge and the page behind it, as Settings and Goal."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from weightshare.errors import WeightshareError
from weightshare.practice.option import check_practised
from weightshare.task import Goal, Settings
from weightshare.window.bar import SettingsBar
from weightshare.window.sheet import SettingsSheet


class Desk(QObject):
    """Tells when something was set otherwise; what is wrong with it is said beside it, in words."""

    changed = Signal()

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.bar, self.sheet = SettingsBar(), SettingsSheet(window)
        self._wrong = False
        self.bar.changed.connect(self._changed)
        self.sheet.changed.connect(self._changed)
        self.bar.more_asked.connect(self._open)
        self.sheet.closed.connect(lambda: self.bar.setEnabled(True))

    def show_values(self, settings: Settings, goal: Goal, source: str) -> None:
        """Show these values, without telling of a change."""
        self.bar.show_values(settings, goal, source)
        self.sheet.show_values(settings, goal)

    def values(self, settings: Settings, goal: Goal) -> tuple[Settings, Goal] | None:
        """Return `settings` and `goal` with all that is set here; None where something is wrong, which is said."""
        said = ""
        try:
            wanted = check_practised(self.sheet.settings(self.bar.settings(settings)))
            return wanted, self.sheet.goal(self.bar.goal(goal))
        except WeightshareError as error:
            said = str(error)
            return None
        finally:
            self._say(said)

    def lock(self, locked: bool) -> None:
        """Hold fast what is measured against, or free it."""
        self.bar.lock(locked)
        self.sheet.lock(locked)

    def _open(self) -> None:
        # its keys would mean two things
        self.bar.setEnabled(False)
        self.sheet.open_page()

    def _changed(self) -> None:
        self.sheet.suit(self.bar.chosen)
        self.changed.emit()

    def _say(self, said: str) -> None:
        self.sheet.said.setText(said)
        if said or self._wrong:
            self.bar.say(said)
        self._wrong = bool(said)
