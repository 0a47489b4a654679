"""What a session suggests, where it is told: the clinician takes it by one key or leaves it, a patient reads it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.errors import WeightshareError
from weightshare.practice.flow import PRACTISING
from weightshare.practice.message import retell
from weightshare.records.place import programme_folder
from weightshare.tongue import mark, say

if TYPE_CHECKING:
    from weightshare.records.assessment import Assessment
    from weightshare.window.feed import Order
    from weightshare.window.main import PracticeWindow

TAKE = mark("Ta&ke it: {stage}  (Alt+K)")
TAKEN = mark("From now on: {stage}. That it was taken, and why, is kept with the session.")
TO_SIGN = mark("The decision is signed on the patient's page (F6).")


class Suggested:
    """Offers it on the bar over the board."""

    def __init__(self, window: PracticeWindow, order: Order) -> None:
        self._window, self._order = window, order

    def show(self, found: Assessment, session: Path) -> None:
        """Tell what `session` suggests; the clinician may take it, where it is another stage that is not locked."""
        from weightshare.practice.offer import find_offered, say_offer

        patient, stage = self._window.ward.is_shut, find_offered(found)
        told = say_offer(found, patient=patient)
        if patient or stage is None:
            self._window.notice.offer(told)
        else:
            self._window.notice.offer(told, (say(TAKE, stage=say(stage.name)), lambda: self._take(found, session)))

    def _take(self, found: Assessment, session: Path) -> None:
        """Practise what is suggested from now on. Somebody else may be at the screen by now."""
        from weightshare.practice.offer import take_offer

        window, order, stage = self._window, self._order, found.suggestion.stage
        if window.ward.is_shut or window.flow.step in PRACTISING or stage is None:
            return
        injured, now = window.flow.settings.injured, datetime.now().astimezone()
        try:
            assignment = take_offer(found, session, injured, now, folder=programme_folder(), place=order.place)
        except WeightshareError as error:
            window.notice.offer(retell(str(error)))
            return
        window.ward.take(assignment)
        said = say(TAKEN, stage=say(stage.name))
        window.notice.offer(f"{said} {say(TO_SIGN)}" if order.charge.code else said)
