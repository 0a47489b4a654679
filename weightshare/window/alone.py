"""Holds back practice in which the injured leg stands alone and no stage allows it, until the clinician does."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from weightshare.practice.role import is_alone
from weightshare.practice.screen import Figures, Screen, Shape, Soles, Step
from weightshare.tongue import mark, say

if TYPE_CHECKING:
    from weightshare.window.main import PracticeWindow
    from weightshare.window.ward import Ward

ASKED = mark(
    "In this exercise the injured leg stands alone. Only where the surgeon's protocol and the treating clinician allow "
    "that: how much load may be taken is for the surgeon to say."
)
ALLOWED = mark("It is allowed  (Alt+&Y)")
NOT_A_PATIENTS = mark(
    "In this exercise the injured leg stands alone, and nobody has allowed that here. The clinician does (F3)."
)
BOTH_FEET, NOT_YET = mark("Stay on both feet."), mark("not allowed yet")


class Alone:
    """Asks once whenever such an exercise is set by hand. What was allowed stands until another exercise is set."""

    def __init__(self, window: PracticeWindow, ward: Ward) -> None:
        self._window, self._ward = window, ward
        self._asked = False

    @property
    def is_held_back(self) -> bool:
        """Whether practice as it is set now may not begin yet."""
        flow, order = self._window.flow, self._ward.order
        return is_alone(flow.settings, flow.goal) and order.prescription is None and not order.alone_allowed

    def follow(self) -> None:
        """Ask where such an exercise was set just now; forget what was asked and allowed where it is none any more."""
        flow = self._window.flow
        if not is_alone(flow.settings, flow.goal):
            self._ward.order.alone_allowed = False
        if self.is_held_back and not self._asked:
            self._ask()
        elif not self.is_held_back and self._asked:
            self._asked = False
            self._window.notice.clear()

    def holds_back(self) -> bool:
        """Return whether the big key may not begin now; it is said why then."""
        held = self._window.flow.step is Step.READY and self.is_held_back
        if held:
            self._ask()
        return held

    def veil(self, screen: Screen) -> Screen:
        """Return what is shown while practice is held back: nobody is asked to stand on the injured leg alone."""
        if screen.step is not Step.READY or not self.is_held_back or screen.alarm is not None:
            return screen
        words = replace(screen, headline=say(BOTH_FEET), state=say(NOT_YET), note="", shape=Shape.RING)
        return replace(words, path=None, soles=Soles(True, True), figures=Figures(), key="")

    def _ask(self) -> None:
        self._asked = True
        notice = self._window.notice
        if self._ward.is_shut:
            notice.offer(say(NOT_A_PATIENTS))
        else:
            notice.offer(say(ASKED), (say(ALLOWED), self._allow))

    def _allow(self) -> None:
        self._ward.order.alone_allowed, self._asked = True, False

    def ask_anew(self) -> None:
        """Somebody else is at the screen now: what was said to the one before is said otherwise."""
        if self._asked:
            self._asked = False
            self._window.notice.clear()
