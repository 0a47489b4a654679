"""Who may set what at the window, and what is practised by: the stage, the roles, and the pages that go with them."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QApplication, QDialog, QWidget

from weightshare.errors import RecordError
from weightshare.exercise import Exercise
from weightshare.practice.asked import revise, say_asked
from weightshare.practice.flow import PRACTISING, Flow
from weightshare.practice.role import Keeper, Role
from weightshare.records.assignment import Assignment, write_assignment
from weightshare.records.passphrase import has_passphrase
from weightshare.tongue import say
from weightshare.window import choice
from weightshare.window.alone import Alone
from weightshare.window.feed import Order
from weightshare.window.home import AtHome
from weightshare.window.strip import StageStrip
from weightshare.window.teller import Teller

if TYPE_CHECKING:
    from weightshare.practice.stages import Stages
    from weightshare.window.annex import Annex
    from weightshare.window.editpage import EditPage
    from weightshare.window.lockpage import LockPage
    from weightshare.window.main import PracticeWindow
    from weightshare.window.stagepage import StagePage
    from weightshare.window.tellpage import TellPage

TOUCHES = (QEvent.Type.KeyPress, QEvent.Type.MouseButtonPress, QEvent.Type.Wheel)


class Ward(QObject):
    """Keeps role and stage for `window`. `order` is what sessions are of: written here, read where one is opened.

    `is_void`: the patient is here, and what is to be done was never set or cannot be read.
    """

    def __init__(self, window: PracticeWindow, order: Order) -> None:
        super().__init__(window)
        self._window, self.order = window, order
        self.keeper = Keeper(is_set=has_passphrase())
        self.strip = StageStrip()
        self.strip.stages_asked.connect(self.open_stages)
        self.strip.lock_asked.connect(self.turn)
        self.strip.patients_asked.connect(self.open_patients)
        self.teller = Teller(window, order)
        self.strip.tell_asked.connect(self.teller.open_page)
        self.alone, self.home = Alone(window, self), AtHome(window, self)
        self._lock: LockPage | None = None
        self._stages: StagePage | None = None
        self._edit: EditPage | None = None
        self._shown: tuple[object, ...] = ()
        """What the strip was last told of."""
        self._watches = False
        """Every key and click of the program is seen: the clinician is here."""

    @property
    def is_shut(self) -> bool:
        """Whether nothing that is measured against may be changed."""
        return not self.keeper.may_set

    @property
    def is_void(self) -> bool:
        """Whether no session may begin: it is not known what the patient is to do."""
        return self.is_shut and self.order.trouble != ""

    @property
    def is_open(self) -> bool:
        """Whether one of its pages covers the window."""
        return any(page.is_open for page in self._built())

    def _built(self) -> list[LockPage | StagePage | EditPage | TellPage]:
        pages = self._lock, self._stages, self._edit, self.teller.built
        return [page for page in pages if page is not None]

    @property
    def _others(self) -> tuple[QWidget, ...]:
        """What answers no key while a page is open."""
        return self._window.bar, self.strip, self._window.notice, self._window.trouble

    @property
    def lock_page(self) -> LockPage:
        """The page of the passphrase."""
        if self._lock is None:
            from weightshare.window.lockpage import LockPage

            window = self._window
            self._lock = LockPage(window, window.board, self._others, self.keeper)
            self._lock.unlocked.connect(self._unlocked)
            self._lock.closed.connect(window.board.setFocus)
        return self._lock

    @property
    def stage_page(self) -> StagePage:
        """The page of programmes."""
        if self._stages is None:
            from weightshare.window.stagepage import StagePage

            window = self._window
            self._stages = StagePage(window, window.board, self._others)
            self._stages.taken.connect(self.take)
            self._stages.edit_asked.connect(self._change_stages)
            self._stages.closed.connect(window.board.setFocus)
            self._stages.closed.connect(window.door.come_back)
        return self._stages

    @property
    def edit_page(self) -> EditPage:
        """The page on which a programme is changed."""
        if self._edit is None:
            from weightshare.window.editpage import EditPage

            self._edit = EditPage(self._window, self._window.board, self._others)
            self._edit.saved.connect(lambda _place: self._back_to_stages())
            self._edit.closed.connect(self._back_to_stages)
        return self._edit

    def _change_stages(self, stages: Stages) -> None:
        self.stage_page.leave()
        self.edit_page.open_page(stages, may_free=self.keeper.role is Role.CLINICIAN)

    def _back_to_stages(self) -> None:
        page = self.stage_page
        if page.stages is not None:
            page.open_page(page.stages, self._window.flow.settings.injured, may_free=self.keeper.role is Role.CLINICIAN)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Whoever presses a key or the mouse is still here."""
        if event.type() in TOUCHES:
            self.keeper.touch(time.monotonic())
        return False

    def _watch(self, *, wanted: bool) -> None:
        """See each key and click while the clinician is here: fields and pages hand theirs on to nobody."""
        app = QApplication.instance()
        if wanted is self._watches or app is None:
            return
        self._watches = wanted
        (app.installEventFilter if wanted else app.removeEventFilter)(self)

    def begin(self) -> bool:
        """Ask for the clinician where nothing is known to be done; return whether it was."""
        if self.is_void and self._window.cautions.isHidden() and not self.lock_page.is_open:
            self.lock_page.open_page(is_void=True)
        return self.is_void

    def follow(self) -> None:
        """Show how it stands: the stage, unless it is practised just now; and lock where the clinician went away."""
        flow = self._window.flow
        practising = flow.step in PRACTISING
        if self.keeper.follow(time.monotonic(), busy=practising):
            self.lock_up()
        self._watch(wanted=self.keeper.role is Role.CLINICIAN)
        order, keeper, held = self.order, self.keeper, self.alone.is_held_back
        shown = order.prescription, flow.settings, flow.goal, keeper.role, keeper.may_set, order.charge, held
        if shown != self._shown:
            self._show_stage()
            self._shown = self.order.prescription, *shown[1:]
        self.strip.setVisible(not practising)
        self.alone.follow()
        self.teller.follow()

    def follow_aside(self, annex: Annex) -> bool:
        """Return whether a page of `annex` covers the window. Lock there too where the clinician went away: a patient
        finds no calibration open."""
        if annex.is_open and self.keeper.follow(time.monotonic(), busy=annex.is_measuring):
            self.lock_up()
            annex.shut_out()
        return annex.is_open

    def _show_stage(self) -> None:
        """Note what was changed by hand with the stage, and say on the strip what is asked for now."""
        flow, order = self._window.flow, self.order
        if order.prescription is not None:
            order.prescription = revise(order.prescription, flow.settings, flow.goal)
        prescription = order.prescription
        knee = None if prescription is None else prescription.stage.knee
        name = say(choice.EXERCISES[flow.settings.exercise or Exercise.HOLD])
        note = ""
        if prescription is not None:
            name, note = say(prescription.stage.name), say(prescription.stage.note)
        told = () if self.alone.is_held_back else (say_asked(flow.settings, flow.goal, knee), note)
        asked = " ".join(part for part in told if part)
        name = f"{order.charge.code}   {name}".strip()
        self.strip.say(name, asked, self.keeper.role, may_set=self.keeper.may_set)

    def take(self, assignment: Assignment) -> None:
        """Practise by `assignment` from now on, in a new session."""
        window, order = self._window, self.order
        order.prescription, order.place, order.trouble = assignment.prescription, assignment.place, ""
        before = window.flow
        window.flow = Flow(assignment.settings, assignment.goal, before.sources, before.sides)
        window.desk.show_values(assignment.settings, assignment.goal, before.sources)
        window.begin()
        window.board.setFocus()

    def press(self, key: Qt.Key) -> None:
        """F2: the stages, F3: lock or unlock, F4: how it is, F6: the patients, F7: practice at home."""
        acts = {
            Qt.Key.Key_F2: self.open_stages,
            Qt.Key.Key_F3: self.turn,
            Qt.Key.Key_F4: self.teller.open_page,
            Qt.Key.Key_F6: self.open_patients,
            Qt.Key.Key_F7: self.home.turn,
        }
        acts[key]()

    def open_patients(self) -> None:
        """Show the patients, which the clinician alone may see. Not while practising."""
        self._window.door.open_patients()

    def open_stages(self) -> None:
        """Show the programmes; of a patient the passphrase is asked first. Not while practising."""
        flow = self._window.flow
        if flow.step in PRACTISING or self._window.is_covered:
            return
        if self.is_shut:
            self.lock_page.open_page()
            return
        from weightshare.practice.stages import Stages
        from weightshare.records.place import programme_folder

        stage = self.order.prescription
        stages = Stages(programme_folder(), self.order.place, "" if stage is None else stage.stage.key)
        self.stage_page.open_page(stages, flow.settings.injured, may_free=self.keeper.role is Role.CLINICIAN)

    def turn(self) -> None:
        """The clinician locks; of a patient the passphrase is asked, the first time a new one. Not while practising."""
        if self._window.flow.step in PRACTISING or self._window.is_covered:
            return
        if self.keeper.role is Role.CLINICIAN:
            self.keeper.lock()
            self.lock_up()
            self._window.tick()
        else:
            self.lock_page.open_page()

    def lock_up(self) -> None:
        """Leave no page open on which something could be set; remember what is to be done, between starts too."""
        flow, window, order = self._window.flow, self._window, self.order
        for page in (self._stages, self._edit):
            if page is not None:
                page.leave()
        window.desk.sheet.leave()
        window.desk.give_up()
        settings = replace(flow.settings, counting_from_s=None)
        prescription = revise(self.order.prescription, settings, flow.goal)
        self.alone.ask_anew()
        allowed = self.order.alone_allowed
        try:
            assigned = Assignment(settings, flow.goal, prescription, order.place, alone_allowed=allowed)
            write_assignment(replace(assigned, code=order.charge.code, inbox=order.charge.inbox, at_home=order.at_home))
        except RecordError as error:
            window.notice.offer(str(error))

    def _unlocked(self) -> None:
        window, void = self._window, self.order.trouble
        self.order.trouble = ""
        self.alone.ask_anew()
        window.board.setFocus()
        window.tick()
        if void:
            window.begin()
        window.door.go_on()

    def leave(self) -> None:
        """Keep what was said, once the session is closed; no page is left open."""
        self._watch(wanted=False)
        self.uncover()
        self.teller.leave()
        self._window.door.leave()

    def uncover(self) -> None:
        """No page of these stays over an alarm."""
        for page in self._built():
            page.leave()

    def fit(self) -> None:
        """Take the window's size."""
        for page in self._built():
            page.fit()


def make_way(window: PracticeWindow) -> None:
    """No page and no dialog of `window` stays over an alarm."""
    window.desk.sheet.leave()
    window.ward.uncover()
    window.cautions.uncover()
    for dialog in window.findChildren(QDialog):
        dialog.reject()
    if not window.board.hasFocus():
        window.board.setFocus()
