"""Practice at home at the window: an option of what is set to be done, which the clinician turns on and off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from weightshare.practice.action import Action
from weightshare.practice.home import Home
from weightshare.practice.screen import Screen
from weightshare.practice.view import LiveView
from weightshare.tongue import mark, say

if TYPE_CHECKING:
    from weightshare.window.main import PracticeWindow
    from weightshare.window.ward import Ward

ON, OFF = mark("At home: on (F&7)"), mark("At home: off (F&7)")


class AtHome:
    """Lets sessions begin and end without a key, where that was set. A patient sees no key for it."""

    def __init__(self, window: PracticeWindow, ward: Ward) -> None:
        self._window, self._ward = window, ward
        self._home = Home()
        ward.strip.home_asked.connect(self.turn)

    def turn(self) -> None:
        """Turn it on or off; not while practising, and not a patient."""
        if self._ward.keeper.may_set and not self._window.flow.locked and not self._window.is_covered:
            self._ward.order.at_home = not self._ward.order.at_home
            self._home = Home()

    def follow(self, view: LiveView, shown: tuple[Screen, Action]) -> tuple[Screen, Action]:
        """Return what to show and to do; say on the strip how it is set."""
        strip, order = self._ward.strip, self._ward.order
        strip.show_home(say(ON) if order.at_home else say(OFF), shown=self._ward.keeper.may_set)
        shown = self._ward.alone.veil(shown[0]), shown[1]
        if not order.at_home:
            return shown
        may_begin = not (self._window.is_covered or self._ward.alone.is_held_back)
        return self._home.follow(self._window.flow, view, *shown, may_begin=may_begin)
