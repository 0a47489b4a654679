"""Sets and rests: when a person begins, how often it repeats, what comes between, and how cues are followed."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from weightshare.exercise import Exercise, Tempo
from weightshare.model import Side
from weightshare.scales.rig.extra import do_extra, lean
from weightshare.scales.rig.holding import Holder
from weightshare.scales.rig.plan import Deed, Phase, Task, arrive
from weightshare.scales.rig.profile import Extra, Profile, Stroke
from weightshare.scales.rig.raising import Doer, Doing, Raiser
from weightshare.scales.rig.seat import Sitter, Squatter
from weightshare.scales.rig.stroke import Cycle, time_cycle

REPETITION, HOLD = "repetition", "hold"
AHEAD_S = 0.22
"""What belongs to a repetition begins at most so long before it."""
GRAIN_S = 0.1
"""How often somebody who waits looks whether a cue has come."""
OWN_TEMPO = Tempo(1.2, 0.8, 2.2, 1.2)
CATCH_UP = 0.3
"""Who is late by up to this part of a cycle still takes the beat that has passed."""
LEAST_PAUSE = 0.4
"""Who is late shortens the stop at the bottom, but to no less than this part of it."""
LONGEST_PAUSE_S = 20.0
EXHAUSTED_HEIGHT = 0.4
"""The part of the height that is lost when no further rise can be done."""


@dataclass(frozen=True, slots=True)
class Cue:
    """A set begins (s since the first sample), on this leg; `beat_s` is the metronome's first beat."""

    time_s: float
    working: Side | None = None
    beat_s: float | None = None


class Cues:
    """Cues on their way to a person; given from any thread."""

    def __init__(self) -> None:
        self._waiting: deque[Cue] = deque()

    def give(self, cue: Cue) -> None:
        """Leave a cue for the person."""
        self._waiting.append(cue)

    @property
    def waiting(self) -> bool:
        """Whether there is a cue that was not taken."""
        return bool(self._waiting)

    def take(self) -> Cue | None:
        """Return the newest cue, and forget those before; None where there is none."""
        newest = None
        while self._waiting:
            newest = self._waiting.popleft()
        return newest


class Sets:
    """One person's sets. `patience_s` is how long the first cue is waited for; then the person goes by itself."""

    def __init__(self, profile: Profile, task: Task, seed: int, cues: Cues, patience_s: float) -> None:
        self._profile, self._task, self._seed, self._cues = profile, task, seed, cues
        self._patience_s = patience_s
        self._sitter: Sitter | None = None
        self.away = False
        """Whether the person left the plates by somebody's wish: then no set goes on, and none begins."""

    def play(self) -> Iterator[Phase]:
        """Yield phase after phase, without end."""
        rng = np.random.default_rng([self._seed, 1])
        now_s = yield from arrive(self._profile, rng)
        due_s, number, cued = now_s + max(self._patience_s, rng.uniform(1.0, 2.0)), 0, False
        while True:
            cue = self._cues.take()
            cued = cued or cue is not None
            alone = not cued and number < self._task.sets and now_s >= due_s
            if self.away or (cue is None and not alone):
                now_s = min(now_s + GRAIN_S, due_s) if due_s > now_s else now_s + GRAIN_S
                yield Phase(now_s, ())
                continue
            number += 1
            chance = np.random.default_rng([self._seed, 7, number])
            one = self._one_set(cue, now_s, number, chance)
            for phase in one:
                now_s = max(now_s, phase.end_s)
                yield phase
            due_s = now_s + self._task.rest_s + chance.uniform(2.0, 4.0)

    def _one_set(self, cue: Cue | None, now_s: float, number: int, rng: np.random.Generator) -> Iterator[Phase]:
        task, working = self._task, (cue.working if cue else None) or self._task.working_side
        doer = self._make_doer(working, rng)
        reaction_s = rng.uniform(*self._profile.manner.reaction_s)
        begin_s = now_s if cue is None else max(cue.time_s + reaction_s, now_s)
        ready = doer.prepare(begin_s)
        start_s = max(ready.to_s, begin_s + 0.3)
        beat = Beat(self._profile, task, cue.beat_s if cue else None, rng)
        start_s = beat.first_s(start_s)
        yield Phase(start_s - AHEAD_S, tuple(ready.moves), deed=_name(ready, number, working))
        end_s = start_s
        for phase in self._repeat(doer, beat, start_s, number, working):
            end_s = max(end_s, phase.end_s, phase.deed.to_s if phase.deed else 0.0)
            yield phase
        if not self.away:
            last = doer.finish(end_s)
            yield Phase(last.to_s, tuple(last.moves), deed=_name(last, number, working))

    def _repeat(self, doer: Doer, beat: Beat, start_s: float, number: int, working: Side) -> Iterator[Phase]:
        """Yield the repetitions of a set with what comes between, until they are done or the next cue comes."""
        count, gap_s = self._count(), 1.0
        for k in range(count):
            if self.away or (k and self._cues.waiting):
                return
            doing, deed = self._do(doer, start_s, gap_s, beat.cycle, self._tire(k, count, number))
            next_s, extra = beat.next_s(max(doing.to_s, doing.ready_s)), self._extra(k, count)
            phases: list[Phase] = []
            if extra is not None and (isinstance(doer, Raiser) or (extra is Extra.STEP_OFF and not self._sitter)):
                phases = list(do_extra(extra, doer, doing.to_s + doer.rng.uniform(0.8, 1.2), number))
                next_s = beat.next_s(phases[-1].end_s + 0.6)
            if k == count - 1:
                next_s = max(doing.to_s, doing.ready_s) + AHEAD_S
            until_s = phases[0].moves[0].start_s if phases else next_s - AHEAD_S
            yield Phase(
                max(until_s, doing.from_s),
                tuple(doing.moves),
                deed=Deed(deed, doing.from_s, doing.to_s, number, working, deed in (REPETITION, HOLD)),
            )
            yield from phases
            gap_s, start_s = next_s - (phases[-1].end_s if phases else doing.to_s), next_s

    def _do(self, doer: Doer, start_s: float, gap_s: float, cycle: Cycle, tired: float) -> tuple[Doing, str]:
        if self._profile.manner.leans_only and isinstance(doer, Raiser):
            moves, end_s = lean(doer, start_s)
            return Doing(moves, start_s, end_s), str(Extra.LEAN)
        what = HOLD if self._task.exercise is Exercise.HEEL_HOLD else REPETITION
        return doer.repeat(start_s, gap_s, cycle, tired), what

    def _extra(self, k: int, count: int) -> Extra | None:
        """Return what comes after repetition `k` of a set of `count`."""
        if k == count - 1:
            return None
        if self._profile.leaves:
            return Extra.STEP_OFF if k == (count - 1) // 2 else None
        manner = self._profile.manner
        return manner.extra if (k + 1) % manner.extra_every == 0 else None

    def _count(self) -> int:
        if self._task.exercise is Exercise.HEEL_HOLD:
            return self._task.holds
        return self._profile.manner.endurance if self._task.to_exhaustion else self._task.repetitions

    def _tire(self, k: int, count: int, number: int) -> float:
        """Return how tired one is: 1 at the end of a set, a little more in a later one, far more when exhausted."""
        part = k / max(count - 1, 1)
        if self._task.to_exhaustion:
            return part * EXHAUSTED_HEIGHT / max(self._profile.manner.tired_height, 0.02)
        return part + 0.25 * min(number - 1, 3)

    def _make_doer(self, working: Side, rng: np.random.Generator) -> Doer:
        if self._task.exercise is Exercise.SQUAT:
            return Squatter(self._profile, self._task, rng)
        if self._task.exercise is Exercise.HEEL_HOLD:
            return Holder(self._profile, self._task, working, rng)
        if self._task.exercise is not Exercise.SIT_TO_STAND:
            return Raiser(self._profile, self._task, working, rng)
        self._sitter = self._sitter or Sitter(self._profile, self._task, rng)
        self._sitter.rng = rng
        return self._sitter


class Beat:
    """When repetitions begin: by the tempo that is asked for, on the beats of a metronome, or by the person's own.

    Who follows a tempo does not fall behind it little by little; who cannot keep it begins when ready, or on the
    metronome's next beat.
    """

    def __init__(self, profile: Profile, task: Task, beat_s: float | None, rng: np.random.Generator) -> None:
        self._manner, self._rng = profile.manner, rng
        own = profile.manner.tempo
        tempo = own or task.tempo or OWN_TEMPO
        if task.exercise is Exercise.SQUAT:
            tempo = Tempo(tempo.lowering_s, tempo.pause_s, tempo.rise_s, min(tempo.top_s, LONGEST_PAUSE_S))
        self.cycle = time_cycle(profile.manner, tempo)
        self._cycle_s = tempo.cycle_s
        self._follows = own is None and task.tempo is not None
        self._metronome = beat_s is not None and self._follows
        self._beat_s = beat_s or 0.0

    def first_s(self, ready_s: float) -> float:
        """Return when the first repetition begins: on the first beat for which one is ready."""
        missed = max(np.ceil((ready_s - self._beat_s) / self._cycle_s), 0.0) if self._metronome else 0.0
        self._beat_s = self._beat_s + float(missed) * self._cycle_s if self._metronome else ready_s
        return self._beat_s

    def next_s(self, end_s: float) -> float:
        """Return when the next repetition begins, the one before having ended at `end_s`."""
        swinging = self._manner.stroke is Stroke.SWINGING
        least_s = end_s + (0.0 if swinging else LEAST_PAUSE * self.cycle.bottom_s)
        if swinging or not self._follows:
            spread = 0.0 if swinging else self._manner.tempo_spread
            return max(least_s, end_s + self.cycle.bottom_s * float(np.exp(spread * self._rng.normal())))
        self._beat_s += self._cycle_s
        while self._metronome and self._beat_s < least_s - CATCH_UP * self._cycle_s:
            self._beat_s += self._cycle_s
        if not self._metronome:
            self._beat_s = max(self._beat_s, least_s)
        late = float(np.clip(self._rng.normal(), -2.0, 2.0)) * self._manner.beat_spread_s
        return max(least_s, self._beat_s + late)


def _name(doing: Doing, number: int, working: Side) -> Deed | None:
    """Return what a set begins or ends with, where it moves heels or body: no repetition."""
    return Deed(doing.what, doing.from_s, doing.to_s, number, working) if doing.what else None
