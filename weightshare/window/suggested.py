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
    """Offers it on the bar over the board, to whoever is there, as long as session, stage and patient stay the same."""

    def __init__(self, window: PracticeWindow, order: Order) -> None:
        self._window, self._order = window, order
        self._found: tuple[Assessment, Path] | None = None
        self._about: tuple[object, ...] = ()
        """What the session was of when it was asked what it suggests."""
        self._told, self._to_patient = "", False

    def expect(self) -> None:
        """What a session suggests is looked for now; it is told only if nothing else has begun until then."""
        self._about = self._at_hand()

    def _at_hand(self) -> tuple[object, ...]:
        prescription, charge = self._order.prescription, self._order.charge
        return self._window.flow, None if prescription is None else prescription.stage, charge.code

    def show(self, found: Assessment, session: Path) -> None:
        """Tell what `session` suggests; the clinician may take it, where it is another stage that is not locked."""
        self._found = found, session
        if self._about == self._at_hand():
            self._tell(*self._found)

    def follow(self) -> None:
        """Tell it anew where somebody else is at the screen now; take it away where it is of what is over."""
        notice = self._window.notice
        if self._found is None or notice.words.text() != self._told:
            return
        if self._about != self._at_hand():
            self.drop()
        elif self._to_patient is not self._window.ward.is_shut:
            self._tell(*self._found)

    def drop(self) -> None:
        """Suggest nothing any more."""
        if self._found is not None and self._window.notice.words.text() == self._told:
            self._window.notice.clear()
        self._found = None

    def _tell(self, found: Assessment, session: Path) -> None:
        from weightshare.practice.offer import find_offered, say_offer

        self._to_patient, stage = self._window.ward.is_shut, find_offered(found)
        self._told = say_offer(found, patient=self._to_patient)
        takes = [] if self._to_patient or stage is None else [(say(TAKE, stage=say(stage.name)), self._take)]
        self._window.notice.offer(self._told, *takes)

    def _take(self) -> None:
        """Practise what is suggested from now on. Somebody else may be at the screen by now: it stays offered."""
        from weightshare.practice.offer import take_offer

        window, order = self._window, self._order
        if self._found is None or self._about != self._at_hand():
            return
        found, session = self._found
        stage = found.suggestion.stage
        if window.ward.is_shut or window.flow.step in PRACTISING or stage is None:
            self._tell(found, session)
            return
        injured, now = window.flow.settings.injured, datetime.now().astimezone()
        try:
            assignment = take_offer(found, session, injured, now, folder=programme_folder(), place=order.place)
        except WeightshareError as error:
            window.notice.offer(retell(str(error)))
            return
        self._found = None
        window.ward.take(assignment)
        said = say(TAKEN, stage=say(stage.name))
        window.notice.offer(f"{said} {say(TO_SIGN)}" if order.charge.code else said)
