"""The corridor of the coming seconds: where the band will be if the person keeps to the tempo."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import fmean

import numpy as np

from weightshare.exercise import PHASES, Basis, Phase, Repetition, Tempo
from weightshare.model import Floats, Side
from weightshare.pipeline.aim import EVEN_PERCENT, aim_in
from weightshare.pipeline.lowpass import delay_s
from weightshare.practice.metronome import lengths_s, order_of
from weightshare.practice.pulse import first_phase
from weightshare.practice.screen import Ahead
from weightshare.state import Snapshot
from weightshare.task import Settings
from weightshare.tongue import mark, say

HORIZON_S = 5.0
"""How far the corridor is drawn ahead, s: somewhat farther than can be seen."""
STEP_S = 0.05
LATE_S = 0.3
"""Who is late in a phase sees its end so far ahead: never behind, and never at the very now-line, s."""
LEAST_TOP_S = 0.3
"""The turn at the top is drawn at least so long, s: the band bends there, whatever the tempo says."""
FIRST_TEMPO = Tempo(2.0, 1.0, 3.0, 1.0)
"""Of a person whose own tempo is not known yet."""
LAST = 3
"""So many repetitions tell the person's own tempo."""
LEAST_KEPT = 1e-3
"""Where less is left of what a bend comes from, it does not matter any more."""
LONGEST_PAUSE_S = 5.0
"""Longer between two repetitions is no part of the tempo, s."""
WORDS = {
    Phase.RISE: mark("up"),
    Phase.TOP: mark("hold"),
    Phase.LOWERING: mark("down"),
    Phase.BOTTOM: mark("rest"),
}


@dataclass(frozen=True, slots=True)
class _Piece:
    """A phase to come, or the one under way: from when to when, s from now."""

    phase: Phase
    begin_s: float
    end_s: float


def tempo_of(settings: Settings, repetitions: Sequence[Repetition]) -> Tempo:
    """Return the tempo that is asked for; without one that of the person's last repetitions, or a first guess."""
    if settings.tempo is not None:
        return settings.tempo
    last = repetitions[-LAST:]
    rise_s = _mean([one.rise_duration_s for one in last])
    top_s = _mean([one.top_duration_s for one in last])
    lowering_s = _mean([one.lowering_duration_s for one in last])
    if rise_s is None or lowering_s is None:
        return FIRST_TEMPO
    pauses = [
        later.start_s - earlier.end_s
        for earlier, later in itertools.pairwise(last)
        if later.start_s is not None and earlier.end_s is not None
    ]
    pause_s = _mean([pause for pause in pauses if pause <= LONGEST_PAUSE_S])
    return Tempo(
        min(max(rise_s, 0.3), 20.0),
        min(max(top_s or 0.0, 0.0), 60.0),
        min(max(lowering_s, 0.3), 20.0),
        FIRST_TEMPO.pause_s if pause_s is None else max(pause_s, 0.0),
    )


def find_edges(settings: Settings, aim_percent: Floats) -> tuple[Floats, Floats]:
    """Return the band's edges about each aim (percent, shape (n,)) as places: the right foot's share, percent."""
    low = np.maximum(0.0, aim_percent - settings.tolerance_percent)
    high = np.full(aim_percent.shape, 100.0)
    if not settings.one_sided:
        high = np.minimum(100.0, aim_percent + settings.tolerance_percent)
    high = np.where(np.isnan(aim_percent), np.nan, high)
    return (low, high) if settings.injured is Side.RIGHT else (100.0 - high, 100.0 - low)


def look_ahead(snapshot: Snapshot, settings: Settings, paced_from_s: float | None = None) -> Ahead | None:
    """Return the corridor to come, from the band that is measured against now; None where it stays as it is.

    It waits at the bottom until the person starts, unless a metronome has begun, or begins at `paced_from_s`.
    """
    exercise = settings.exercise
    if exercise is None or not exercise.is_repeated or snapshot.phase is None or snapshot.time_s is None:
        return None
    if snapshot.aim_percent is None:
        return None
    lasts_s = math.inf
    if snapshot.phase_since_s is not None:
        # the band, and the puck, are as late as the filter; an instant that is told is not
        lasts_s = max(0.0, snapshot.time_s - snapshot.phase_since_s - delay_s(settings.filter_Hz))
    tempo = tempo_of(settings, snapshot.repetitions)
    lead_s = None if paced_from_s is None else paced_from_s + delay_s(settings.filter_Hz) - snapshot.time_s
    left_s, waits = _time_left(snapshot, tempo, lasts_s, lead_s)
    pieces = list(_plan(order_of(first_phase(settings)), snapshot.phase, tempo, (lasts_s, left_s)))
    turns = [piece.begin_s for piece in pieces[1:] if piece.begin_s < HORIZON_S]
    from_now_s = np.union1d(np.arange(0.0, HORIZON_S + STEP_S / 2, STEP_S), turns)
    aim = _follow_aim(settings, pieces, snapshot.aim_percent, from_now_s)
    shown = pieces[1:] if waits or math.isinf(lasts_s) else pieces
    marks = tuple((piece.begin_s, say(WORDS[piece.phase])) for piece in shown if piece.begin_s <= HORIZON_S)
    return Ahead(from_now_s, *find_edges(settings, aim), marks, waits)


def _time_left(snapshot: Snapshot, tempo: Tempo, lasts_s: float, lead_s: float | None) -> tuple[float, bool]:
    """Return how long the phase under way still lasts, s, and whether the corridor waits for the person.

    `lead_s` is how long a metronome still leads in, below 0 once it goes; None where there is none.
    """
    assert snapshot.phase is not None
    left_s = _length_s(tempo, snapshot.phase) - lasts_s
    if snapshot.basis is Basis.PACED:
        return (0.0, True) if lead_s is None else (lead_s if lead_s > 0.0 else max(left_s, 0.0), False)
    if snapshot.phase is Phase.BOTTOM:
        return max(left_s, 0.0), left_s <= 0.0
    return max(left_s, LATE_S), False


def _plan(order: tuple[Phase, ...], phase: Phase, tempo: Tempo, lasts_left_s: tuple[float, float]) -> Iterator[_Piece]:
    """Yield the phases up to the horizon: the one under way, which lasts and will last so long, and those to come."""
    lasts_s, begin_s = lasts_left_s
    yield _Piece(phase, -lasts_s, begin_s)
    for place in itertools.count(order.index(phase) + 1):
        if begin_s > HORIZON_S:
            return
        phase = order[place % len(order)]
        length_s = _length_s(tempo, phase)
        if length_s > 0.0:
            yield _Piece(phase, begin_s, begin_s + length_s)
        begin_s += length_s


def _length_s(tempo: Tempo, phase: Phase) -> float:
    asked_s = lengths_s(tempo)[phase]
    return max(asked_s, LEAST_TOP_S) if phase is Phase.TOP else asked_s


def _follow_aim(settings: Settings, pieces: Sequence[_Piece], now_percent: float, from_now_s: Floats) -> Floats:
    """Return the aim (percent) at each instant, shape (n,); at the first it is `now_percent` itself."""
    aim, from_percent = np.empty(from_now_s.shape), _aim_before(settings, pieces[0], now_percent)
    for piece in pieces:
        inside = (from_now_s >= piece.begin_s) & (from_now_s < piece.end_s)
        inside |= (from_now_s >= piece.end_s) & (piece is pieces[-1])
        since_s = np.append(from_now_s[inside], piece.end_s) - piece.begin_s
        found = aim_in(settings, PHASES.index(piece.phase), since_s, from_percent)
        aim[inside], from_percent = found[:-1], float(found[-1])
    aim[0] = now_percent
    return aim


def _aim_before(settings: Settings, piece: _Piece, now_percent: float) -> float:
    """Return the aim from which the phase under way bends away, so that it is `now_percent` now."""
    lasts_s = np.array([-piece.begin_s])
    # a bend is a straight line in what it comes from
    from_zero, from_one = (
        float(aim_in(settings, PHASES.index(piece.phase), lasts_s, start)[0]) for start in (0.0, 1.0)
    )
    kept = from_one - from_zero
    return (now_percent - from_zero) / kept if kept > LEAST_KEPT else EVEN_PERCENT


def _mean(figures: Sequence[float | None]) -> float | None:
    known = [figure for figure in figures if figure is not None]
    return fmean(known) if known else None
