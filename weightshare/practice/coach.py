"""When sets begin and end: by sample time alone, without a screen and without a clock."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from weightshare.exercise import Basis, Repetition, SetSpan
from weightshare.model import Side
from weightshare.pipeline.endurance import Verdict, judge
from weightshare.pipeline.sets import group, is_in
from weightshare.state import Snapshot, State
from weightshare.task import Goal, Settings

AFTER_GOAL_S = 1.0
"""How long the last hold goes on after its goal, s: the end is never cut at the very instant that is asked for."""
COUNT_IN_BEATS = 4
"""Where the metronome leads, so many beats, a second apart, come before the first repetition."""
_NOT_THERE = (
    State.WAITING,
    State.ZEROING,
    State.NOBODY,
    State.WEIGHING,
    State.ONE_FOOT_OFF,
    State.NO_READING,
    State.OVERLOAD,
)


@dataclass(frozen=True, slots=True)
class Sets:
    """The sets of a session so far, and the faults that were marked in them (s, sample time)."""

    spans: tuple[SetSpan, ...] = ()
    faults_s: tuple[float, ...] = ()

    @property
    def newest(self) -> SetSpan | None:
        """The set that was begun last; None before the first."""
        return self.spans[-1] if self.spans else None

    @property
    def under_way(self) -> SetSpan | None:
        """The set that is not over; None in a rest, before the first and after the last."""
        return self.newest if self.newest is not None and self.newest.to_s is None else None

    def are_done(self, goal: Goal) -> bool:
        """Return whether as many sets as `goal` asks for are over."""
        return sum(span.to_s is not None for span in self.spans) >= goal.sets

    def rest_until_s(self, goal: Goal) -> float | None:
        """Return the sample time at which the rest is over; None where none is under way."""
        newest = self.newest
        if newest is None or newest.to_s is None or self.are_done(goal):
            return None
        return newest.to_s + goal.rest_s


def own_repetitions(span: SetSpan, snapshot: Snapshot) -> tuple[Repetition, ...]:
    """Return the repetitions given out so far that belong to the set `span`."""
    return tuple(snapshot.repetitions[place] for place in group(snapshot.repetitions, [span])[0])


def are_held(snapshot: Snapshot, goal: Goal) -> bool:
    """Return whether as many holds as `goal` asks for are over, a moment after the last one reached its time."""
    going_on = snapshot.holding and snapshot.held_s < goal.hold_s + AFTER_GOAL_S
    return snapshot.holds_done(goal.hold_s) >= goal.holds and not going_on


def is_there(snapshot: Snapshot) -> bool:
    """Return whether someone stands on the plates who could begin now, body weight known."""
    return snapshot.body_weight_N is not None and snapshot.state not in _NOT_THERE


def is_warming_up(snapshot: Snapshot) -> bool:
    """Return whether somebody who was weighed goes on with the warm-up stand."""
    return snapshot.stand_left_s > 0.0 and is_there(snapshot)


def is_alarmed(snapshot: Snapshot) -> bool:
    """Return whether the ceiling's alarm has a reason: then nothing begins."""
    return snapshot.over_ceiling or snapshot.ceiling_unread


def choose_leg(settings: Settings, goal: Goal, number: int) -> Side | None:
    """Return the leg that works in set `number` of single-leg work; None where both do.

    It is that of the settings. To exhaustion the legs take turns, the uninjured one first, so that they can be compared
    (common practice, no source).
    """
    if settings.exercise is None or not settings.exercise.is_single:
        return None
    if not goal.to_exhaustion:
        return settings.working_side
    return settings.injured if number % 2 == 0 else settings.injured.other


def find_verdict(span: SetSpan, snapshot: Snapshot, sets: Sets, settings: Settings) -> Verdict:
    """Return how many repetitions of the set `span` count, and whether a stopping rule says that it is over."""
    working = span.working or settings.working_side
    return judge(
        own_repetitions(span, snapshot),
        settings.tempo,
        [fault_s for fault_s in sets.faults_s if is_in(span, fault_s)],
        [one for one in snapshot.rejected if is_in(span, one.start_s)],
        injured_works=working is settings.injured,
    )


class Coach:
    """Has a set begin with practice, end with its last repetition, and the next one begin when the rest is over.

    Each method returns the set that has begun or ended by it, for whoever tells pipeline and record; None where none
    has. `after_s` is a moment after the newest sample. `unattended`: nobody is there to end a set to exhaustion when a
    stopping rule says so. `holds`: a session of holds is over with the last one.
    """

    def __init__(self, settings: Settings, goal: Goal, *, unattended: bool = False, holds: bool = False) -> None:
        self.settings, self.goal = settings, goal
        self._unattended, self._holds = unattended, holds
        self._held = False
        self.sets = Sets()
        self._given_out = 0
        """How many repetitions there were when it was last asked whether the set is complete."""

    @property
    def counts(self) -> bool:
        """Whether what is done is counted in sets of repetitions."""
        return self.settings.exercise is not None and self.settings.exercise.is_repeated

    @property
    def is_done(self) -> bool:
        """Whether the last set, or the last hold, is over."""
        return self._held or (self.counts and self.sets.are_done(self.goal))

    def begin(self, after_s: float, basis: Basis | None) -> SetSpan | None:
        """Begin the next set, unless one is under way or the last is over; `basis` is what repetitions rest on."""
        if not self.counts or self.sets.under_way is not None or self.is_done:
            return None
        number = len(self.sets.spans) + 1
        span = SetSpan(
            number,
            after_s,
            working=choose_leg(self.settings, self.goal, number),
            blind=number in self.goal.blind_sets,
            paced_from_s=after_s + COUNT_IN_BEATS if basis is Basis.PACED else None,
        )
        self.sets = replace(self.sets, spans=(*self.sets.spans, span))
        return span

    def end(self, to_s: float) -> SetSpan | None:
        """End the set that is under way: what begins from `to_s` on belongs to none."""
        span = self.sets.under_way
        if span is None:
            return None
        ended = replace(span, to_s=max(to_s, span.from_s))
        self.sets = replace(self.sets, spans=(*self.sets.spans[:-1], ended))
        return ended

    def mark_fault(self, after_s: float) -> bool:
        """Mark a fault in the set that is under way; return whether there is one."""
        if self.sets.under_way is None:
            return False
        self.sets = replace(self.sets, faults_s=(*self.sets.faults_s, after_s))
        return True

    def push(self, snapshot: Snapshot) -> SetSpan | None:
        """Take the newest snapshot, and do what is due with its sample."""
        if snapshot.time_s is None:
            return None
        if not self.counts:
            self._held = self._held or (self._holds and are_held(snapshot, self.goal))
            return None
        after_s, span = math.nextafter(snapshot.time_s, math.inf), self.sets.under_way
        if span is not None and self.goal.to_exhaustion:
            stops = self._unattended and find_verdict(span, snapshot, self.sets, self.settings).reason is not None
            return self.end(after_s) if stops else None
        if span is not None:
            last = self._find_last(span, snapshot)
            return None if last is None else self.end(after_s if last.end_s is None else _after(last.end_s))
        until_s = self.sets.rest_until_s(self.goal)
        # a metronome waits for nobody: it must not lead in for an empty plate
        waits = is_alarmed(snapshot) or (snapshot.basis is Basis.PACED and not is_there(snapshot))
        if until_s is not None and snapshot.time_s >= until_s and not waits:
            return self.begin(after_s, snapshot.basis)
        return None

    def _find_last(self, span: SetSpan, snapshot: Snapshot) -> Repetition | None:
        """Return the repetition that completes the set; None where it has not been given out."""
        given_out, self._given_out = self._given_out, len(snapshot.repetitions)
        if given_out == self._given_out:
            return None
        own = own_repetitions(span, snapshot)
        return own[self.goal.repetitions - 1] if len(own) >= self.goal.repetitions else None


def _after(time_s: float) -> float:
    return math.nextafter(time_s, math.inf)
