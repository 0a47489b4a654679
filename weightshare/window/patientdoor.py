"""The clinician's way to the patients: the list, one patient, what is asked of the store, and practice with them."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.errors import WeightshareError
from weightshare.practice.clinic.charge import Charge
from weightshare.practice.clinic.clerk import Clerk
from weightshare.practice.clinic.roll import find_last, list_roll
from weightshare.practice.clinic.sight import charge_of
from weightshare.practice.role import Role
from weightshare.practice.stages import Stages
from weightshare.programme.reading import ProgrammeError
from weightshare.records.place import programme_folder
from weightshare.records.store.inbox import take_inbox
from weightshare.records.store.latch import needs_passphrase
from weightshare.records.store.patient import Patient, patient_by_id
from weightshare.records.store.store import Store, is_store
from weightshare.tongue import say
from weightshare.window import complaint
from weightshare.window.patientcase import PatientCase
from weightshare.window.patientlist import PatientList

if TYPE_CHECKING:
    from weightshare.window.main import PracticeWindow
    from weightshare.window.pastpage import PastPage


class PatientDoor:
    """Opens the pages over `window`, and has the clerk do what they ask. `past` looks back at sessions.

    `closed` is called when the last of its pages goes.
    """

    def __init__(
        self, window: PracticeWindow, place: Path, past: Callable[[], PastPage], closed: Callable[[], None]
    ) -> None:
        self._window, self._closed = window, closed
        self.clerk = Clerk(place)
        self.list = PatientList(window, window.board, (window.bar, window.notice, window.trouble, window.ward.strip))
        self.case = PatientCase(window, self.clerk, past)
        self.form, self.page = self.case.form, self.case.page
        self._connect()

    def _connect(self) -> None:
        for page in (self.list, self.form, self.page):
            page.ticked.connect(self.tick)
        self.list.closed.connect(self._leave)
        self.list.gate.opens.connect(self._open_store)
        self.list.gate.makes.connect(self._make_store)
        self.list.chosen.connect(self._see)
        self.list.add_asked.connect(self._add)
        self.list.nobody_asked.connect(self._practise_for_nobody)
        self.case.left.connect(self.open)
        self.page.practise_asked.connect(self._practise)

    @property
    def is_open(self) -> bool:
        """Whether one of its pages covers the window."""
        return self.list.is_open or self.case.is_open

    @property
    def is_waiting(self) -> bool:
        """Whether a session of a patient is looked back at, and its page is to come again."""
        return self.case.laid is not None

    def open(self) -> None:
        """Show the list, once the session that was under way is closed."""
        self.case.leave()
        self.list.open_page(self._window.ward.order.charge.code)
        if self.clerk.is_open:
            self._list()
        elif not is_store(self.clerk.place):
            self._show_gate(is_new=True)
        else:
            self._find_lock()

    def _find_lock(self) -> None:
        def found(is_sealed: bool) -> None:
            self._show_gate(is_new=False) if is_sealed else self._open_store("")

        self.clerk.do(lambda: needs_passphrase(self.clerk.place), found, self.list.say)

    def _show_gate(self, *, is_new: bool) -> None:
        self.list.show_gate(is_new=is_new)
        self.list.gate.ask(self.clerk.place, is_new=is_new)

    def _open_store(self, passphrase: str) -> None:
        self.clerk.open(passphrase or None, self._list, self._refuse)

    def _make_store(self, passphrase: str) -> None:
        self.clerk.make(passphrase or None, self._list, self._refuse)

    def _refuse(self, said: str) -> None:
        if self.list.stack.currentWidget() is self.list.gate:
            self.list.gate.free(said)
        else:
            self.list.say(said)

    def _list(self) -> None:
        self.clerk.ask(list_roll, self.list.show_rows, self.list.say)
        self.clerk.ask(find_last, self.list.show_last, self.list.say)
        self.list.words.setFocus()

    def _see(self, patient: Patient) -> None:
        self.list.leave()
        self.case.see(patient)

    def _add(self) -> None:
        if self.clerk.is_open:
            self.list.leave()
            self.case.ask_form(None)

    def _practise(self) -> None:
        """Practise the patient's stage; where there is none that may be practised, show the programmes."""
        sight = self.page.sight
        if sight is None:
            return
        patient, side = sight.patient, self.page.followed
        # what was asked before comes first: the evidence may take some seconds
        self.page.say(say("One moment \u2026"))
        self.clerk.ask(
            lambda store: charge_of(store, patient, side),
            self.case.of(patient, lambda charge: self._begin(patient, charge, side)),
            self.case.of(patient, self.page.say),
        )

    def _begin(self, patient: Patient, charge: Charge, side: Any) -> None:
        ward = self._window.ward
        self.page.leave()
        ward.order.charge = charge
        stages = Stages(programme_folder(), patient.programme, patient.stage)
        try:
            if not patient.stage:
                raise ProgrammeError(say("{code} has no stage yet: choose one.", code=patient.code))
            assignment = stages.take(side)
        except WeightshareError as error:
            if not self._window.door.greets:
                self._closed()
            ward.stage_page.open_page(stages, side, may_free=True)
            ward.stage_page.wrong.setText(complaint.plain(str(error)))
        else:
            ward.take(assignment)

    def _practise_for_nobody(self) -> None:
        self._window.ward.order.charge = Charge()
        self.list.leave()
        self._leave()

    def tick(self) -> None:
        """Take what the clerk has done; nobody but the clinician sees these pages."""
        keeper = self._window.ward.keeper
        if keeper.follow(time.monotonic()):
            self._window.ward.lock_up()
        if keeper.role is not Role.CLINICIAN:
            self.shut()
            return
        self.clerk.collect()

    def shut(self) -> None:
        """Leave all pages, and forget the store's key."""
        was_open = self.is_open
        self.list.leave()
        self.case.leave()
        self.clerk.close()
        if was_open:
            self._leave()

    def _leave(self) -> None:
        self.case.patient = None
        self._closed()

    def fit(self) -> None:
        """Take the window's size."""
        self.list.fit()
        self.case.fit()

    def leave(self) -> bool:
        """The window closes: take in what was recorded, and give back what is held; return whether all is done."""
        self.list.leave()
        self.case.leave()
        inbox = self._window.ward.order.charge.inbox
        if inbox and self.clerk.is_open:
            self.clerk.ask(lambda store: _take_in(store, Path(inbox).name), _tell_nobody, _tell_nobody)
        return self.clerk.leave()


def _take_in(store: Store, ident: str) -> None:
    patient = patient_by_id(store, ident)
    if patient is not None:
        take_inbox(store, patient)


def _tell_nobody(_found: object) -> None:
    """The window is gone; what could not be taken in still waits, and is told of when the page is next opened."""
