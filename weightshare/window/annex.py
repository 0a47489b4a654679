"""The pages over a practice window that few need: loaded and built when they are first asked for, not before."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from weightshare.window.board import Board

if TYPE_CHECKING:
    from weightshare.practice.option import PractiseOptions
    from weightshare.window.bench import BenchPage
    from weightshare.window.benchfeed import OpenBench
    from weightshare.window.feed import Sources
    from weightshare.window.main import PracticeWindow
    from weightshare.window.pastpage import PastPage
    from weightshare.window.patientdoor import PatientDoor
    from weightshare.window.settled import SettledPage
    from weightshare.window.startpage import StartPage


class Annex:
    """Builds each page over `window` once; until then there is nothing to load, to fit or to leave.

    `others` answer no key while a page is open, and `closed` is called when it goes. Without `open_bench` each
    calibration is refused.
    """

    def __init__(
        self,
        window: PracticeWindow,
        board: Board,
        others: tuple[QWidget, ...],
        open_bench: OpenBench | None,
        closed: Callable[[], None],
    ) -> None:
        self._window, self._board, self._others = window, board, others
        self._open_bench, self._closed = open_bench, closed
        self._page: BenchPage | None = None
        self._settled: SettledPage | None = None
        self._settled_for: Sources = ()
        self._start: StartPage | None = None
        self._past: PastPage | None = None
        self.is_clinicians: Callable[[], bool] = lambda: False
        """Whether the clinician is at the screen."""
        self._patients: PatientDoor | None = None

    def open_settled(self, options: PractiseOptions, wait_until_free: Callable[[], None]) -> None:
        """Show the settled readings of the sources of `options`; see SettledPage.open_page."""
        self._settled_for = options.sources
        self.settled.open_page(options, self._board.theme, wait_until_free)

    def should_settle(self, said: str, sources: Sources) -> bool:
        """Return whether `said` is that the scales at `sources` tell settled readings only, and nobody was shown them.

        Whoever has left that page wants something else of these scales.
        """
        if not said or sources == self._settled_for:
            return False
        from weightshare.practice.message import retell
        from weightshare.scales.air.connection import OTHER_KIND

        return OTHER_KIND in said or retell(OTHER_KIND) in said

    @property
    def settled(self) -> SettledPage:
        """The page of settled readings."""
        if self._settled is None:
            from weightshare.scales.air.settled import listen_to
            from weightshare.window.settled import SettledPage

            self._settled = SettledPage(self._window, self._board, self._others, self._board.theme, listen_to)
            self._settled.closed.connect(self._closed)
        return self._settled

    @property
    def page(self) -> BenchPage:
        """The page of the guided calibration."""
        if self._page is None:
            # what it brings along would keep the window's first picture waiting
            from weightshare.window.bench import BenchPage
            from weightshare.window.benchfeed import refuse_bench

            opens = self._open_bench or refuse_bench
            self._page = BenchPage(self._window, self._board, self._others, self._board.theme, opens)
            self._page.closed.connect(self._bench_closed)
        return self._page

    def _bench_closed(self) -> None:
        """A calibration is over: back to getting started, where it was asked for there."""
        if self._start is not None and self._start.is_waiting:
            self._start.go_on()
        else:
            self._closed()

    @property
    def start(self) -> StartPage:
        """The page of getting started."""
        if self._start is None:
            from weightshare.window.startpage import StartPage

            self._start = StartPage(self._window, self._board, self._others, self._board.theme)
            self._start.closed.connect(self._closed)
        return self._start

    @property
    def past(self) -> PastPage:
        """The page that looks back at saved sessions."""
        if self._past is None:
            from weightshare.window.pastpage import PastPage

            self._past = PastPage(self._window, self._board, self._others, self._board.theme)
            self._past.is_clinicians = self.is_clinicians
            self._past.closed.connect(self._past_closed)
        return self._past

    def _past_closed(self) -> None:
        """Nothing is looked back at any more: back to the patient, where it was one of theirs."""
        if self._patients is not None and self._patients.is_waiting:
            self._patients.case.go_on()
        else:
            self._closed()

    @property
    def patients(self) -> PatientDoor:
        """The pages of the patients, and who asks the store for them."""
        if self._patients is None:
            from weightshare.records.place import store_place
            from weightshare.window.patientdoor import PatientDoor

            place = self._window.ward.order.store or store_place()
            self._patients = PatientDoor(self._window, place, lambda: self.past, self._window.begin)
        return self._patients

    def leave_patients(self) -> None:
        """Take in what was recorded for a patient, and let go of the store: nothing is recorded any more."""
        if self._patients is not None:
            self._patients.leave()

    @property
    def is_open(self) -> bool:
        """Whether the window is covered."""
        return any(page.is_open for page in self._built()) or (self._patients is not None and self._patients.is_open)

    def _built(self) -> list[BenchPage | SettledPage | StartPage | PastPage]:
        return [page for page in (self._page, self._settled, self._start, self._past) if page is not None]

    @property
    def is_measuring(self) -> bool:
        """Whether a calibration is under way: it may take longer than anybody presses a key."""
        return self._page is not None and self._page.is_measuring

    def shut_out(self) -> None:
        """Leave what only the clinician may see: a calibration that is prepared, or was found, sessions, patients."""
        if self._page is not None and self._page.is_open:
            self._page.form.left.emit()
        if self._past is not None and self._past.is_open:
            self._past.shut()
        if self._patients is not None:
            self._patients.shut()

    def fit(self) -> None:
        """Take the window's size."""
        for page in self._built():
            page.fit()
        if self._patients is not None:
            self._patients.fit()

    def leave(self) -> None:
        """Give the scales back, where one is held, and wait for that."""
        for page in self._built():
            page.leave()
