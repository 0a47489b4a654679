"""The clinician's way to the patients: the list, one patient, what is asked of the store, and practice with them."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.errors import WeightshareError
from weightshare.practice.clinic.charge import Charge
from weightshare.practice.clinic.clerk import Clerk
from weightshare.practice.clinic.roll import find_last, list_roll
from weightshare.practice.clinic.sight import find_stage, keep_decision, look, weigh_evidence
from weightshare.practice.past.opening import check_past
from weightshare.practice.past.shelf import Wanted
from weightshare.practice.role import Role
from weightshare.practice.stages import Stages
from weightshare.programme.reading import ProgrammeError
from weightshare.records.evidence import Evidence
from weightshare.records.place import programme_folder
from weightshare.records.store.correcting import take_corrected
from weightshare.records.store.latch import needs_passphrase
from weightshare.records.store.patient import Patient, add_patient, change_patient, inbox_of, make_patient
from weightshare.records.store.ruling import Ruling
from weightshare.records.store.store import Store, is_store
from weightshare.records.store.trail import note_trail
from weightshare.records.store.visit import Visit, opened
from weightshare.report.history import History, history_of
from weightshare.tongue import say
from weightshare.window import complaint
from weightshare.window.patientform import PatientForm
from weightshare.window.patientlist import PatientList
from weightshare.window.patientpage import PatientPage

if TYPE_CHECKING:
    from weightshare.window.main import PracticeWindow
    from weightshare.window.pastpage import PastPage


@dataclass(slots=True)
class Laid:
    """A session's files laid out to be looked at, until `files` are given back."""

    folder: Path
    files: ExitStack
    patient: Patient
    visit: Visit
    is_corrected: bool = False


class PatientDoor:
    """Opens the pages over `window`, and has the clerk do what they ask. `past` looks back at sessions.

    `closed` is called when the last of its pages goes.
    """

    def __init__(
        self, window: PracticeWindow, place: Path, past: Callable[[], PastPage], closed: Callable[[], None]
    ) -> None:
        self._window, self._past, self._closed = window, past, closed
        self.clerk = Clerk(place)
        others = window.bar, window.notice, window.trouble, window.ward.strip
        self.list = PatientList(window, window.board, others)
        self.form = PatientForm(window, window.board, others)
        self.page = PatientPage(window, window.board, others, window.board.theme)
        self.patient: Patient | None = None
        """Whose page is open, or was last."""
        self._laid: Laid | None = None
        self._connect()

    def _connect(self) -> None:
        for page in (self.list, self.form, self.page):
            page.ticked.connect(self.tick)
        self.list.closed.connect(self._leave)
        self.list.gate.opens.connect(self._open_store)
        self.list.gate.makes.connect(self._make_store)
        self.list.chosen.connect(self.see)
        self.list.add_asked.connect(lambda: self._ask_form(None))
        self.list.nobody_asked.connect(self._practise_for_nobody)
        self.form.kept.connect(self._keep)
        self.form.closed.connect(self._form_closed)
        self.page.closed.connect(self.open)
        self.page.change_asked.connect(lambda: self._ask_form(self.patient))
        self.page.practise_asked.connect(self._practise)
        self.page.look_asked.connect(self._look_back)
        self.page.evidence.decided.connect(self._decide)

    @property
    def is_open(self) -> bool:
        """Whether one of its pages covers the window."""
        return any(page.is_open for page in (self.list, self.form, self.page))

    @property
    def is_waiting(self) -> bool:
        """Whether a session of a patient is looked back at, and its page is to come again."""
        return self._laid is not None

    # -- the list ------------------------------------------------------------------------------------------------------

    def open(self) -> None:
        """Show the list, once the session that was under way is closed."""
        window = self._window
        self.form.leave()
        self.page.leave()
        self.list.open_page(window.ward.order.charge.code)
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

    # -- one patient ---------------------------------------------------------------------------------------------------

    def see(self, patient: Patient) -> None:
        """Show the page of `patient`."""
        self.patient = patient
        self.list.leave()
        self.page.open_page(patient, self._window.board.theme)
        self._load(patient)

    def _load(self, patient: Patient) -> None:
        """Read what there is to be seen, what is quick first; what comes too late for another patient is passed by."""
        wait = self._window.runner.wait

        def first(store: Store) -> Any:
            # the session that ended just now is to be among them
            wait()
            return look(store, patient)

        def weigh(store: Store) -> Evidence | str:
            try:
                return weigh_evidence(store, patient)
            except ProgrammeError as error:
                return str(error)

        steps: tuple[tuple[Callable[[Store], Any], Callable[[Any], None]], ...] = (
            (first, self._take_sight),
            (lambda store: history_of(store, patient, with_name=True), self._take_history),
            (weigh, self._take_evidence),
        )
        for work, take in steps:
            self.clerk.ask(work, self._of(patient, take), self._of(patient, self.page.say))

    def _of(self, patient: Patient, take: Callable[[Any], None]) -> Callable[[Any], None]:
        def taken(found: Any) -> None:
            if self.patient is not None and self.patient.id == patient.id:
                take(found)

        return taken

    def _take_sight(self, sight: Any) -> None:
        self.patient = sight.patient
        self.page.show_sight(sight, _say_stage(sight.patient), self.clerk.clock())

    def _take_history(self, history: History) -> None:
        self.page.show_history(history, self.clerk.clock())

    def _take_evidence(self, found: Evidence | str) -> None:
        if isinstance(found, str):
            self.page.show_evidence(None, found)
        else:
            self.page.show_evidence(found)

    def _decide(self, ruling: Ruling) -> None:
        patient = self.patient
        if patient is None:
            return
        signed = replace(ruling, at=self.clerk.clock().isoformat(timespec="seconds"))

        def taken(rulings: tuple[Ruling, ...]) -> None:
            self.page.show_rulings(rulings)
            words = say("Signed and kept. What {code} practises is as it was: Change is for that.", code=patient.code)
            self.page.evidence.wrong.setText(words)

        work: Callable[[Store], Any] = lambda store: keep_decision(store, patient, signed)  # noqa: E731
        self.clerk.ask(work, self._of(patient, taken), self._of(patient, self.page.evidence.wrong.setText))

    # -- added and changed ---------------------------------------------------------------------------------------------

    def _ask_form(self, patient: Patient | None) -> None:
        if patient is None and not self.clerk.is_open:
            return
        page = self.list if patient is None else self.page
        page.leave()
        self.form.open_page(patient)

    def _form_closed(self) -> None:
        if self.form.patient is None:
            self.open()
        else:
            self.page.come_back()

    def _keep(self, typed: dict[str, Any]) -> None:
        patient, today = self.form.patient, self.clerk.clock().date()

        def work(store: Store) -> Patient:
            if patient is None:
                return add_patient(store, make_patient(typed.pop("code"), today, **typed))
            changed = {name: value for name, value in typed.items() if getattr(patient, name) != value}
            return change_patient(store, patient, today, **changed) if changed else patient

        def kept(found: Patient) -> None:
            self.form.leave()
            self.see(found)

        self.clerk.ask(work, kept, self.form.complain)

    # -- looked back at ------------------------------------------------------------------------------------------------

    def _look_back(self, visit: Visit) -> None:
        patient = self.patient
        if patient is None or self._laid is not None:
            return
        self.page.say(say("Opening \u2026"))

        def work(store: Store) -> Laid:
            with ExitStack() as files:
                folder = files.enter_context(opened(store, visit))
                check_past(folder)
                note_trail(store, "looked at a session", patient.id, visit.started_at)
                return Laid(folder, files.pop_all(), patient, visit)

        self.clerk.ask(work, self._show_past, self._of(patient, self.page.say))

    def _show_past(self, laid: Laid) -> None:
        if not self.page.is_open:
            laid.files.close()
            return
        self._laid = laid
        self.page.say("")
        self.page.leave()
        wanted = Wanted(laid.folder.parent, laid.folder, partial(self._keep_corrected, laid))
        self._past().open_page(wanted, self._window.board.theme)

    def _keep_corrected(self, laid: Laid) -> None:
        """Take what the clinician corrected in the copy into the store."""
        laid.is_corrected = True
        work = partial(take_corrected, patient=laid.patient, visit=laid.visit, folder=laid.folder)
        self.clerk.ask(work, lambda _none: None, self.page.say)

    def go_on(self) -> None:
        """The session was looked at: give its copy back, and show the patient's page again."""
        laid, self._laid = self._laid, None
        if laid is not None:
            self._give_back(laid)
        self.page.come_back()
        if laid is not None and laid.is_corrected:
            self._load(laid.patient)

    def _give_back(self, laid: Laid) -> None:
        """Give the copy back, once what was corrected in it was taken."""
        if laid.is_corrected:
            self.clerk.do(laid.files.close, lambda _none: None, self.page.say)
        else:
            laid.files.close()

    # -- practice ------------------------------------------------------------------------------------------------------

    def _practise(self) -> None:
        """Practise the patient's stage; where there is none that may be practised, show the programmes."""
        sight = self.page.sight
        if sight is None:
            return
        patient, side = sight.patient, self.page.followed
        self.clerk.ask(
            lambda store: Charge(patient.code, str(inbox_of(store, patient))),
            self._of(patient, lambda charge: self._begin(patient, charge, side)),
            self._of(patient, self.page.say),
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
            self._closed()
            ward.stage_page.open_page(stages, side, may_free=True)
            ward.stage_page.wrong.setText(complaint.plain(str(error)))
        else:
            ward.take(assignment)

    def _practise_for_nobody(self) -> None:
        self._window.ward.order.charge = Charge()
        self.list.leave()
        self._leave()

    # -- leaving -------------------------------------------------------------------------------------------------------

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
        for page in (self.list, self.form, self.page):
            page.leave()
        self.clerk.close()
        if was_open:
            self._leave()

    def _leave(self) -> None:
        self.patient = None
        self._closed()

    def fit(self) -> None:
        """Take the window's size."""
        for page in (self.list, self.form, self.page):
            page.fit()

    def leave(self) -> bool:
        """The window closes: give back what is held; return whether all is done."""
        for page in (self.list, self.form, self.page):
            page.leave()
        if self._laid is not None:
            self._give_back(self._laid)
        return self.clerk.leave()


def _say_stage(patient: Patient) -> str:
    """Return programme and stage in words; what is wrong with them, else."""
    if not patient.stage:
        return ""
    try:
        _kept, prescription = find_stage(patient)
    except ProgrammeError as error:
        return f"{patient.stage}: {error}"
    return f"{prescription.programme}: {prescription.stage.name}"
