"""One patient's page with what it asks of the store: read, decided, added and changed, looked back at."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from weightshare.metrology.index import Index
from weightshare.practice.clinic.clerk import Clerk
from weightshare.practice.clinic.sight import find_stage, keep_decision, look, weigh_evidence
from weightshare.practice.past.opening import check_past
from weightshare.practice.past.shelf import Wanted
from weightshare.practice.tale import MORNING, Told, day_of, entries_of
from weightshare.programme.reading import ProgrammeError
from weightshare.records.diary import About
from weightshare.records.evidence import Evidence
from weightshare.records.store.correcting import take_corrected
from weightshare.records.store.patient import Patient, add_patient, change_patient, make_patient
from weightshare.records.store.ruling import Ruling
from weightshare.records.store.saying import say as add_said
from weightshare.records.store.store import Store
from weightshare.records.store.trail import note_trail, read_trail
from weightshare.records.store.visit import Visit, opened
from weightshare.report.history import History, history_of
from weightshare.tongue import say
from weightshare.window.patientform import PatientForm
from weightshare.window.patientpage import PatientPage
from weightshare.window.patientsides import compare_sides
from weightshare.window.tellpage import TellPage

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


class PatientCase(QObject):
    """Shows one patient over `window`, and has the clerk do what is asked. `past` looks back at sessions."""

    left = Signal()
    """The page was left: the list comes next."""

    def __init__(self, window: PracticeWindow, clerk: Clerk, past: Callable[[], PastPage]) -> None:
        super().__init__(window)
        self._window, self.clerk, self._past = window, clerk, past
        others = window.bar, window.notice, window.trouble, window.ward.strip
        self.form = PatientForm(window, window.board, others)
        self.page = PatientPage(window, window.board, others, window.board.theme)
        self.patient: Patient | None = None
        """Whose page is open, or was last."""
        self.laid: Laid | None = None
        """What is looked back at just now."""
        self._compared: Visit | None = None
        """Whose sides were asked for last."""
        self.form.kept.connect(self._keep)
        self.form.closed.connect(self._form_closed)
        self.page.closed.connect(self.left)
        self.page.change_asked.connect(lambda: self.ask_form(self.patient))
        self.page.look_asked.connect(self._look_back)
        self.page.morning_asked.connect(self._ask_morning)
        self.page.trail_asked.connect(self._read_trail)
        self.page.sides_asked.connect(self._compare)
        self.tell = TellPage(window, window.board, others)
        self.tell.told.connect(self._keep_morning)
        self.tell.closed.connect(self.page.come_back)
        self.page.evidence.decided.connect(self._decide)

    @property
    def is_open(self) -> bool:
        """Whether one of its pages covers the window."""
        return self.page.is_open or self.form.is_open or self.tell.is_open

    def see(self, patient: Patient) -> None:
        """Show the page of `patient`."""
        self.patient = patient
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
            self.clerk.ask(work, self.of(patient, take), self.of(patient, self.page.say))

    def of(self, patient: Patient, take: Callable[[Any], None]) -> Callable[[Any], None]:
        """Return what hands over what was found, unless another patient is shown by then."""

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

        self.page.read_trail()

    def _read_trail(self) -> None:
        patient = self.patient
        if patient is not None:
            take = self.of(patient, self.page.show_trail)
            self.clerk.ask(lambda store: read_trail(store, patient.id), take, self.of(patient, self.page.say))

    def _compare(self, visit: Visit) -> None:
        """Show how the sides of a session compare, unless another one is asked for by then."""
        patient, page = self.patient, self.page
        if patient is None:
            return
        self._compared = visit

        def take(found: tuple[Index, ...]) -> None:
            if self._compared is visit:
                page.sides.show_indices(visit.started_at[:16].replace("T", " "), found)

        work = partial(compare_sides, patient=patient, visit=visit)
        self.clerk.ask(work, self.of(patient, take), self.of(patient, page.sides.said.setText))

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
        self.clerk.ask(work, self.of(patient, taken), self.of(patient, self.page.evidence.wrong.setText))

    def ask_form(self, patient: Patient | None) -> None:
        """Ask what is known of `patient`; None: of somebody who is added."""
        self.page.leave()
        self.form.open_page(patient)

    def _form_closed(self) -> None:
        if self.form.patient is None:
            self.left.emit()
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

    def _look_back(self, visit: Visit) -> None:
        patient = self.patient
        if patient is None or self.laid is not None:
            return
        self.page.say(say("Opening \u2026"))

        def work(store: Store) -> Laid:
            with ExitStack() as files:
                folder = files.enter_context(opened(store, visit))
                check_past(folder)
                note_trail(store, "looked at a session", patient.id, visit.started_at)
                return Laid(folder, files.pop_all(), patient, visit)

        self.clerk.ask(work, self._show_past, self.of(patient, self.page.say))

    def _show_past(self, laid: Laid) -> None:
        if not self.page.is_open:
            laid.files.close()
            return
        self.laid = laid
        self.page.say("")
        self.page.leave()
        wanted = Wanted(laid.folder.parent, laid.folder, partial(self._keep_corrected, laid))
        self._past().open_page(wanted, self._window.board.theme)

    def _keep_corrected(self, laid: Laid) -> None:
        """Take what the clinician corrected in the copy into the store."""
        laid.is_corrected = True
        work = partial(take_corrected, patient=laid.patient, visit=laid.visit, folder=laid.folder)
        self.clerk.ask(work, lambda _none: None, self.page.say)

    def _give_back(self, laid: Laid) -> None:
        """Give the copy back, once what was corrected in it was taken."""
        if laid.is_corrected:
            self.clerk.do(laid.files.close, lambda _none: None, self.page.say)
        else:
            laid.files.close()

    def _ask_morning(self) -> None:
        """Ask for the pain on the morning after the newest session of a day before."""
        visit = None if self.page.sight is None else self.page.sight.morning
        if visit is not None:
            self.page.leave()
            title = say(MORNING, day=day_of(visit.started_at))
            self.tell.open_page((About.PAIN_NEXT_MORNING, About.NOTE), {}, None, title)

    def _keep_morning(self, told: Told) -> None:
        """Put what was said into the session's diary, and show all anew."""
        patient, sight = self.patient, self.page.sight
        self.page.come_back()
        if patient is None or sight is None or (visit := sight.morning) is None or not told:
            return
        at = self.clerk.clock()
        self.clerk.ask(lambda store: add_said(store, patient, visit, *entries_of(told, at)), _nothing, self.page.say)
        self._load(patient)

    def go_on(self) -> None:
        """The session was looked at: give its copy back, and show the patient's page again."""
        laid, self.laid = self.laid, None
        if laid is not None:
            self._give_back(laid)
        self.page.come_back()
        if laid is not None and laid.is_corrected:
            self._load(laid.patient)

    def leave(self) -> None:
        """Leave both pages, and give back what is looked at."""
        self.page.leave()
        self.form.leave()
        self.tell.leave()
        laid, self.laid = self.laid, None
        if laid is not None:
            self._give_back(laid)

    def fit(self) -> None:
        """Take the window's size."""
        for page in (self.page, self.form, self.tell):
            page.fit()


def _nothing(_diary: object) -> None:
    """What was said is shown with all the rest."""


def _say_stage(patient: Patient) -> str:
    """Return programme and stage in words; what is wrong with them, else."""
    if not patient.stage:
        return ""
    try:
        _kept, prescription = find_stage(patient)
    except ProgrammeError as error:
        return f"{patient.stage}: {error}"
    return f"{prescription.programme}: {prescription.stage.name}"
