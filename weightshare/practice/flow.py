"""The order of a practice session, and what the screen shows at each step. No Qt and no clock: time is handed in."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.action import Action
from weightshare.practice.alarm import AlarmKeeper
from weightshare.practice.balance import BalanceStep
from weightshare.practice.check import SideCheck, Verdict
from weightshare.practice.coach import Sets, are_held, choose_leg
from weightshare.practice.compose import practise_screen
from weightshare.practice.fade import Fade
from weightshare.practice.frame import Frame
from weightshare.practice.heel import HeelGauge
from weightshare.practice.history import History
from weightshare.practice.option import find_clash
from weightshare.practice.path import Aids
from weightshare.practice.paving import Paving
from weightshare.practice.prepare import Exchange, prepare_screen
from weightshare.practice.pulse import PulseTeller
from weightshare.practice.rest import rest_screen
from weightshare.practice.screen import Screen, Step
from weightshare.practice.steady import Steadier
from weightshare.practice.summary import Practised, summary_screen
from weightshare.practice.view import LinkState, LiveView
from weightshare.state import Snapshot
from weightshare.task import Goal, Settings

if TYPE_CHECKING:
    from weightshare.practice.checkup import CheckupView

__all__ = ["Action", "Flow"]

PRACTISING = (Step.PRACTISE, Step.REST)
"""Steps in which practice is under way."""
SOMEONE_PART = 0.05
"""From this part of body weight on, feet are on the plates: also those of someone who sits."""


class Flow:
    """Follows one session from the link to the summary. One big key goes on; Escape asks once, then ends.

    Sets begin and end by themselves where the session runs; here they are only followed, and asked for by key.
    """

    def __init__(
        self, settings: Settings, goal: Goal, sources: tuple[str, ...], sides: tuple[Side, Side] | None = None
    ) -> None:
        """`sides`: which foot stands on each of two scales; None: as they say themselves, or one scale."""
        self.settings, self.goal, self.source = settings, goal, sources[0]
        self.sources, self.sides = sources, sides
        self.step = Step.CONNECT
        self.asking_to_end = False
        self.checked = False
        self.place = ""
        """Where the finished session lies, for the summary; set by the owner."""
        self.findings: tuple[str, ...] = ()
        """Whether what was asked was reached, in words, for the summary; set by the owner."""
        self.trouble = ""
        """What could not be kept of it, in words; set by the owner."""
        self.last: LiveView | None = None
        """The session's very last view, with what still waited when it ended; set by the owner."""
        self.silent = False
        self.clinical = False
        """No sound will be heard: none is wanted, or there is no loudspeaker; set by the owner."""
        self._check: SideCheck | None = None
        self._balance = BalanceStep()
        self._checkup: CheckupView | None = None
        """The comparison of the two plates, and the newest of what the check of them has found."""
        self._paving, self._history = Paving(), History()
        self._gauge, self._pulse, self._alarm = HeelGauge(), PulseTeller(), AlarmKeeper()
        self._last, self._sets = Snapshot(), Sets()
        """The newest snapshot of practice, and its sets, for the summary."""
        self._key = ""
        """What the big key was last said to do."""
        self._steadier, self._fade = Steadier(), Fade()
        self._are_two = self._exchanging = False
        """Two separate scales are practised on; they were exchanged, and all of it is measured anew."""
        self._alarmed, self._clash = False, ""
        """Nothing may begin: the ceiling's alarm stands; why the target cannot be reached under it."""
        self._summed: tuple[object, Screen] | None = None

    @property
    def locked(self) -> bool:
        """Whether the settings are held fast: while practising, and on the summary of it."""
        return self.step in (*PRACTISING, Step.DONE)

    @property
    def lifts(self) -> bool:
        """Whether what is practised is made of repetitions, in sets."""
        return self.settings.exercise is not None and self.settings.exercise.is_repeated

    def change(self, settings: Settings, goal: Goal) -> bool:
        """Take other settings; return whether they were taken. While practising they are not."""
        if self.locked:
            return False
        if settings.injured is not self.settings.injured:
            self._check = None
        self._balance.again()
        self.settings, self.goal = settings, goal
        return True

    def press(self) -> Action:
        """The big key: answer a question with no, ask the feet anew, begin, go on to the next set, or start over."""
        if self.asking_to_end:
            self.asking_to_end = False
            return Action.NOTHING
        if self.step is Step.CHECK and self._check is not None:
            self._check.again()
        if self.step is Step.BALANCE:
            self.step = Step.READY if self._balance.press() else Step.BALANCE
        elif self.step is Step.READY:
            if self._alarmed or self._clash:
                return Action.NOTHING
            self.step = Step.PRACTISE
            self._last = Snapshot()
            return Action.BEGIN
        if self.step is Step.REST or (self.step is Step.PRACTISE and words.ends_set(self._key)):
            return self.next()
        return Action.AGAIN if self.step is Step.DONE else Action.NOTHING

    def next(self) -> Action:
        """The key for the next: in a set it ends, in a rest the next one begins."""
        if not self.lifts or self.step not in PRACTISING:
            return Action.NOTHING
        if self.step is Step.REST:
            return Action.NOTHING if self._alarmed else Action.BEGIN_SET
        return Action.END_SET if self._sets.under_way is not None else Action.NOTHING

    def mark(self) -> Action:
        """The key for a fault: it is marked in the set that is under way."""
        in_set = self.lifts and self.step is Step.PRACTISE and self._sets.under_way is not None
        return Action.FAULT if in_set else Action.NOTHING

    @property
    def may_swap(self) -> bool:
        """Whether the check found that two separate scales lie the wrong way round."""
        found = self._check is not None and self._check.verdict is Verdict.SWAPPED
        return found and self._are_two and self.step is Step.CHECK

    def take_swap(self, sides: tuple[Side, Side]) -> None:
        """Each of two scales, so far under the feet `sides`, is taken for the other foot's; the feet are asked anew."""
        self.sides, self._exchanging = (sides[1], sides[0]), True
        if self._check is not None:
            self._check.again()

    def skip(self) -> bool:
        """Pass over a check of left and right; return whether there was one to pass over. The screen will say so."""
        if self.step not in (Step.CHECK, Step.BALANCE):
            return False
        self.step = Step.READY if self.step is Step.BALANCE else self._after_check()
        return True

    def escape(self) -> Action:
        """Escape: ask once, then end. On the summary there is nothing to lose, and the window closes."""
        if self.step is Step.DONE:
            return Action.CLOSE
        if not self.asking_to_end:
            self.asking_to_end = True
            return Action.NOTHING
        self.asking_to_end = False
        return self.end() if self.step in PRACTISING else Action.CLOSE

    def end(self) -> Action:
        """The time that was asked for is over: practice ends, and what was before it stays."""
        if self.step not in PRACTISING:
            return Action.NOTHING
        self.step = Step.DONE
        return Action.FINISH

    def update(self, view: LiveView) -> tuple[Screen, Action]:
        """Take the newest view; return what to paint, and FINISH at the one moment when the session came to its end."""
        before, self._checkup = self.step, view.checkup
        self._are_two = len(view.links) > 1
        self._move(view)
        self._clash = find_clash(self.settings, view.snapshot.body_weight_N)
        screen = self._screen(view)
        alarm = self._alarm.push(view, self.settings, self.step)
        self._alarmed = alarm is not None
        if alarm is not None:
            held = self.step in (Step.READY, Step.REST) and not self.asking_to_end
            screen = replace(screen, alarm=alarm, key="" if held else screen.key)
        self._key = screen.key
        if self.step is Step.BALANCE and view.checkup is not None and self._balance.begin(view.checkup):
            return screen, Action.COMPARE
        finished = before in PRACTISING and self.step is Step.DONE
        return screen, Action.FINISH if finished else Action.NOTHING

    def _move(self, view: LiveView) -> None:
        if self.step in PRACTISING:
            self._practise(view)
        elif not view.stale:
            self._prepare(view)
        elif self._check is not None:
            self._check.lose()

    def _prepare(self, view: LiveView) -> None:
        snapshot = view.snapshot
        if self.step is Step.CONNECT and any(link.state is LinkState.SAMPLING for link in view.links):
            self.step = Step.ZERO
        if self.step is Step.ZERO and snapshot.zero_taken is not None:
            # with support nobody can be weighed, and nobody is asked to lean on one foot
            self.step = Step.READY if self.settings.is_supported else Step.WEIGH
        if self.step is Step.WEIGH and snapshot.body_weight_N is not None and snapshot.stand_left_s <= 0.0:
            self.step = Step.CHECK
        if self.step is Step.CHECK and snapshot.body_weight_N is not None:
            self._ask(snapshot, snapshot.body_weight_N)
        if self.step is Step.BALANCE:
            self._compare(view.checkup)

    def _after_check(self) -> Step:
        return Step.BALANCE if self._balance.is_wanted(self._checkup) else Step.READY

    def _compare(self, checkup: CheckupView | None) -> None:
        """Go on where the two plates read alike, or where nobody is to be asked any more."""
        if checkup is None or checkup.asked_percent is None or self._balance.follow(checkup):
            self.step = Step.READY

    def _ask(self, snapshot: Snapshot, body_weight_N: float) -> None:
        if words.cannot_be_asked(self.source):
            self.step = self._after_check()
            return
        if self._check is None:
            # The sound foot is the one that is asked: a press of it risks nothing.
            self._check = SideCheck(self.settings.injured.other, body_weight_N)
        time_s, left_N, right_N = snapshot.time_s, snapshot.left_N, snapshot.right_N
        if time_s is None or left_N is None or right_N is None or left_N + right_N < SOMEONE_PART * body_weight_N:
            self._check.lose()
        elif self._check.push(time_s, left_N, right_N) is Verdict.PASSED:
            self.step, self.checked = self._after_check(), True
        self._exchanging = self._exchanging and self._check.verdict is Verdict.SETTLING

    def _practise(self, view: LiveView) -> None:
        snapshot = view.snapshot
        if not view.stale:
            self._last = snapshot
            self._paving.push(snapshot.time_s, snapshot.in_band)
            self._history.push(view.trail_time_s, view.trail_share_percent, view.trail_aim_percent)
        self._sets = view.sets
        if bool(view.links) and all(link.state is LinkState.ENDED for link in view.links):
            self.step = Step.DONE
        elif self.lifts:
            self._follow_sets(view.sets)
        elif are_held(snapshot, self.goal):
            self.step = Step.DONE

    def _follow_sets(self, sets: Sets) -> None:
        if sets.are_done(self.goal):
            self.step = Step.DONE
        else:
            self.step = Step.PRACTISE if sets.rest_until_s(self.goal) is None else Step.REST

    def _screen(self, view: LiveView) -> Screen:
        behind = self.step in (Step.READY, *PRACTISING, Step.DONE)
        unchecked = behind and not self.checked and not words.cannot_be_asked(self.source)
        settings = self._settings_of(view)
        asked = settings, self.goal, self.source, self.asking_to_end
        frame = Frame(*asked, unchecked, self.silent, self._clash, self._balance.said if behind else "", self.clinical)
        if self.step is Step.DONE:
            return self._summary(frame, (self.trouble, *view.messages[-2:]) if self.trouble else view.messages[-2:])
        view = self._fade.push(view, before=self.step not in PRACTISING)
        if self.step is Step.REST:
            return rest_screen(view, frame)
        if behind:
            aids = self._aid(view, settings)
            screen = practise_screen(view, frame, self.step, aids)
            return self._steadier.push(screen, view.snapshot, asking=self.asking_to_end)
        exchange = Exchange.OFFERED if self.may_swap else Exchange.GOING if self._exchanging else Exchange.NONE
        return prepare_screen(view, frame, self.step, self._check, self._balance.result, exchange=exchange)

    def _settings_of(self, view: LiveView) -> Settings:
        """Return the settings of the set under way, or of that which comes next; of the session, once it is over."""
        if not self.lifts or self.step is Step.DONE:
            return self.settings
        span = view.sets.under_way
        leg = choose_leg(self.settings, self.goal, len(view.sets.spans) + 1) if span is None else span.working
        return self.settings.for_leg(leg)

    def _aid(self, view: LiveView, settings: Settings) -> Aids:
        """Return what stands beside the path; the metronome goes in practice only."""
        paved = self._paving.runs if self.step is Step.PRACTISE else ()
        pulse = self._pulse.push(view, settings, self.goal) if self.step is Step.PRACTISE else None
        return Aids(paved, self._gauge.push(view.snapshot, settings), pulse)

    def _summary(self, frame: Frame, messages: tuple[str, ...]) -> Screen:
        """Made once, and again where there is more to say: the session's place, a warning, a last repetition."""
        key = (self.place, self.findings, messages, self.last is None)
        if self._summed is None or self._summed[0] != key:
            if self.last is not None and self.lifts:
                self._last, self._sets = self.last.snapshot, self.last.sets
            practised = Practised(self._last, self._sets, self._history.course(), self.findings)
            self._summed = key, summary_screen(practised, frame, messages, self.place)
        return self._summed[1]
