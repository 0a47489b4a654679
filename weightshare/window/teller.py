"""When a person is asked how it is, and where that goes: before, in a rest, after, and of the morning after."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.errors import RecordError, WeightshareError
from weightshare.practice.flow import Flow
from weightshare.practice.message import retell
from weightshare.practice.screen import Step
from weightshare.practice.tale import HOW_WAS_IT, MORNING, Tale, Told, asked_at, day_of, keep_told, say_limits
from weightshare.records.diary import About, find_morning
from weightshare.records.place import session_place
from weightshare.records.setting import read_head
from weightshare.tongue import mark, say
from weightshare.window.errand import Errands
from weightshare.window.feed import Order
from weightshare.window.suggested import Suggested

if TYPE_CHECKING:
    from weightshare.records.assessment import Assessment, Elsewhere
    from weightshare.window.main import PracticeWindow
    from weightshare.window.tellpage import TellPage

SAY_IT = mark("Sa&y it")
NOT_KEPT = mark("Nothing of this session is kept, and so nothing of what was said of it.")


class Teller:
    """Asks, and hands what was said to the session's diary once it is known where that lies."""

    def __init__(self, window: PracticeWindow, order: Order) -> None:
        self._window, self._order = window, order
        self.tale = Tale()
        self._flow: Flow | None = None
        self._folder: Path | None = None
        """Where the session that just ended is kept."""
        self._page: TellPage | None = None
        self._take: Callable[[Told], None] = self._take_session
        self._errands = Errands("weightshare-assessment", say("The session is kept all the same."))
        self._suggested = Suggested(window, order)
        self._assessed: tuple[Assessment, Path] | None = None

    @property
    def page(self) -> TellPage:
        """The page on which it is said."""
        if self._page is None:
            from weightshare.window.tellpage import TellPage

            window = self._window
            self._page = TellPage(window, window.board, (window.bar, window.ward.strip, window.notice))
            self._page.told.connect(self._told)
            self._page.closed.connect(window.board.setFocus)
        return self._page

    @property
    def built(self) -> TellPage | None:
        """The page, once it was wanted."""
        return self._page

    @property
    def _limit(self) -> int | None:
        prescription = self._order.prescription
        return None if prescription is None else prescription.pain_limit

    def begin(self, place: Path | None) -> None:
        """Ask for the morning after the newest session in `place` of a day before, where it was not told yet."""
        folder = find_morning(place or session_place(), datetime.now().astimezone())
        if folder is None:
            return
        head = read_head(folder)
        limit = None if head.prescription is None else head.prescription.pain_limit
        title = say(MORNING, day=day_of(head.started_at))
        self._window.notice.offer(title, (say(SAY_IT), partial(self._ask_morning, folder, title, limit)))

    def _ask_morning(self, folder: Path, title: str, limit: int | None) -> None:
        if self._window.is_covered:
            return
        self._take = partial(self._take_morning, folder, limit)
        self.page.open_page((About.PAIN_NEXT_MORNING, About.NOTE), {}, limit, title)

    def open_page(self) -> None:
        """Ask how it is. Not while a set or a hold is under way."""
        step = self._window.flow.step
        if step is Step.PRACTISE or self._window.is_covered:
            return
        self._take = self._take_session
        self.page.open_page(asked_at(step), self.tale.told, self._limit)

    def _told(self, told: Told) -> None:
        self._window.board.setFocus()
        try:
            self._take(told)
        except WeightshareError as error:
            self._window.notice.offer(retell(str(error)))

    def _take_morning(self, folder: Path, limit: int | None, told: Told) -> None:
        keep_told(folder, told, datetime.now().astimezone())
        if said := say_limits(told, limit):
            self._window.notice.offer(retell(said))
        if About.PAIN_NEXT_MORNING in told:
            self._assess(folder, partial(_assess_again, folder, self._order.charge.elsewhere))

    def _take_session(self, told: Told) -> None:
        self.tale.take(told, datetime.now().astimezone())
        if said := say_limits(self.tale.told, self._limit):
            self._window.notice.offer(retell(said))
        if self._folder is not None:
            self.tale.keep(self._folder)
            ended = self._window.runner.ended
            if ended is not None and ended.assess is not None:
                self._assess(self._folder, ended.assess)

    def follow(self) -> None:
        """See where the session stands: another has begun, a set begins, or it is over and kept."""
        window = self._window
        window.notice.hush(window.flow.step is Step.PRACTISE)
        if window.flow is not self._flow:
            self._flow, self._folder = window.flow, None
            self.tale.begin()
        if self._page is not None and self._page.is_open and window.flow.step is Step.PRACTISE:
            # nothing lies over what is steered by
            self._page.keep()
        ended = window.runner.ended
        if ended is not None and window.flow.step is Step.DONE and self._folder is None:
            self._end(ended.place)
        if self._errands.trouble and not self._errands.is_busy:
            window.notice.offer(retell(self._errands.trouble))
            self._errands.trouble = ""
        if self._assessed is not None and not self._errands.is_busy:
            self._suggested.show(*self._assessed)
            self._assessed = None
        self._suggested.follow()

    def _end(self, place: str) -> None:
        """The session is over, and kept at `place`; empty: it is not, and what was said goes with it."""
        notice = self._window.notice
        if place:
            self._folder = Path(place)
            self._keep()
            if notice.is_free:
                notice.offer(say(HOW_WAS_IT), (say(SAY_IT), self.open_page))
        elif self.tale.drop():
            notice.offer(say(NOT_KEPT))

    def _keep(self) -> None:
        """Put what waits into the diary, where the session is kept."""
        if self._folder is None or not self.tale.is_waiting:
            return
        try:
            self.tale.keep(self._folder)
        except RecordError as error:
            self._window.notice.offer(retell(str(error)))

    def _assess(self, folder: Path, assess: Callable[[], Assessment | None]) -> None:
        """Find out what the session in `folder` suggests, from all that was measured and said."""

        def work() -> None:
            if (found := assess()) is not None:
                self._assessed = found, folder

        self._suggested.expect()
        self._errands.hand_over(work)

    def leave(self) -> None:
        """Keep what still waits, once the session is closed."""
        if self._page is not None:
            self._page.leave()
        self._errands.wait()
        ended = self._window.runner.ended
        if ended is not None and ended.place and self.tale.is_waiting:
            self._folder = Path(ended.place)
            self._keep()


def _assess_again(folder: Path, elsewhere: Elsewhere | None) -> Assessment | None:
    """Return what an earlier session says of its stage, now that its next morning is known."""
    from weightshare.records.assessment import assess_session
    from weightshare.records.session import appraise_session

    return assess_session(folder, appraise_session(folder), elsewhere)
