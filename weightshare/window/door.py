"""How the window comes to its scales: getting started, the remembered pair, left and right exchanged; to the past."""

from __future__ import annotations

from typing import TYPE_CHECKING

from weightshare.errors import RecordError
from weightshare.practice.role import Role
from weightshare.records.pair import Pair, read_pair, write_pair
from weightshare.records.place import session_place
from weightshare.window.annex import Annex

if TYPE_CHECKING:
    from weightshare.practice.past.shelf import Wanted
    from weightshare.practice.startknown import Chosen
    from weightshare.practice.starttrial import Trial
    from weightshare.window.main import PracticeWindow


class Door:
    """Opens the page of getting started over `window`, and takes what comes of it.

    `greets`: the window opens with that page, or with the search for the remembered pair.
    """

    def __init__(self, window: PracticeWindow, annex: Annex, *, greets: bool) -> None:
        self._window, self._annex, self._greets = window, annex, greets
        self._is_connected = False
        self._wanted: Wanted | None = None
        """Saved sessions that are to be shown once the cautions were read."""
        self._wants_patients = False
        """They were asked for, and the clinician's passphrase stands before them."""
        window.bar.look_asked.connect(self.look_back)
        annex.is_clinicians = lambda: window.ward.keeper.role is Role.CLINICIAN

    @property
    def greets(self) -> bool:
        """Whether the page of getting started is still to be opened."""
        return self._greets

    def open_patients(self) -> None:
        """Show the patients to the clinician, ending the session; of others the passphrase is asked first."""
        window = self._window
        if window.flow.locked or window.is_covered:
            return
        ward = window.ward
        self._wants_patients = ward.keeper.role is not Role.CLINICIAN
        if self._wants_patients:
            ward.lock_page.closed.connect(self._want_nothing)
            ward.lock_page.open_page(for_patients=True)
            return
        window.runner.release()
        self._annex.patients.open()

    def leave(self) -> None:
        """The window closes, and nothing is recorded any more: let go of the store of patients."""
        self._annex.leave_patients()

    def _want_nothing(self) -> None:
        self._wants_patients = False
        self.come_back()

    def _open_patients_first(self) -> None:
        """Show the patients before there are scales; getting started comes again after that."""
        self._greets = True
        self.open_patients()

    def come_back(self) -> None:
        """Back to getting started, where the patients were asked for there."""
        if self._greets and not self._window.is_covered:
            self._window.begin()

    def go_on(self) -> None:
        """The clinician is here: show the patients, where those were asked for."""
        wanted, self._wants_patients = self._wants_patients, False
        if wanted:
            self.open_patients()

    def look_back(self, wanted: Wanted | None = None) -> None:
        """Show the saved sessions, or those `wanted`, ending the session; not while practising."""
        window = self._window
        if window.flow.locked or self._annex.is_open:
            return
        if wanted is None:
            from weightshare.practice.past.shelf import Wanted

            kept_in = None if window.options is None else window.options.save
            wanted = Wanted(kept_in or session_place())
        if not window.cautions.isHidden():
            self._wanted = wanted
            return
        window.runner.release()
        # the session that ends now is to be in the list as it is then
        self._annex.past.open_page(wanted, window.board.theme, window.runner.wait)

    def open_first(self) -> bool:
        """Open the page when the window opens, where it greets; return whether no session is to be begun."""
        window = self._window
        if self._wanted is not None:
            if window.cautions.isHidden():
                wanted, self._wanted = self._wanted, None
                self.look_back(wanted)
            return True
        if not self._greets:
            return False
        if window.cautions.isHidden():
            self._greets = False
            self._open(straight=True)
        return True

    def open_page(self) -> None:
        """Show the page, ending the session; not while practising."""
        if not self._window.flow.locked and not self._annex.is_open:
            self._open(straight=False)

    def _open(self, *, straight: bool) -> None:
        window, page = self._window, self._annex.start
        if not self._is_connected:
            self._is_connected = True
            page.chosen.connect(self._take)
            page.calibration_wanted.connect(self._calibrate)
            page.patients_asked.connect(self._open_patients_first)
            page.is_patients = lambda: window.ward.is_shut
        known, said = remembered()
        window.runner.release()
        page.open_page(known, window.board.theme, window.runner.wait, straight=straight and known is not None)
        if page.start is not None:
            page.start.trouble = said

    def _take(self, chosen: Chosen) -> None:
        window = self._window
        window.desk.show_values(window.flow.settings, window.flow.goal, chosen.sources)
        window.move_to(chosen.sources, chosen.sides)

    def _calibrate(self, trial: Trial) -> None:
        window = self._window
        window.calibration.open_page(trial.source, trial.calibration, window.board.theme, window.runner.wait)

    def swap(self) -> None:
        """Take each of two scales for the other foot's, where the check found them so; the remembered pair too."""
        window, feed = self._window, self._window.runner.feed
        if feed is None or not window.flow.may_swap:
            return
        first = feed.view().links[0].side
        if first is None:
            return
        done = feed.swap_sides()
        window.flow.take_swap((first, first.other))
        if not done:
            # the next session begins with them exchanged
            window.restart()
        known = remembered()[0]
        if known is not None and known.sources == window.flow.sources:
            try:
                write_pair(known.swapped())
            except OSError:
                # this session is right all the same, and the next one is checked again
                return


def remembered() -> tuple[Pair | None, str]:
    """Return the pair that is remembered, None for none; and in words why it cannot be read."""
    try:
        return read_pair(), ""
    except RecordError as error:
        return None, str(error)
