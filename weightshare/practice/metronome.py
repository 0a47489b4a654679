"""The metronome: when it clicks, how that sounds, sample by sample, and how it looks. No clock, no audio library."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from weightshare.exercise import Phase, Tempo
from weightshare.practice.screen import Pulse

ORDER = (Phase.RISE, Phase.TOP, Phase.LOWERING, Phase.BOTTOM)
"""In which phases follow each other, round and round: the bottom is where one waits for the next repetition, the top
where one turns."""
_DOWN_FIRST = (Phase.LOWERING, Phase.TOP, Phase.RISE, Phase.BOTTOM)
BEAT_S = 1.0
"""From tick to tick within a phase, and from beat to beat of a count-in, s."""
APART_S = 0.25
"""A tick that comes closer to the next phase than this would be taken for its begin."""
FADE_S = 0.35
"""How long a beat can be seen, s."""
TICK_PART = 0.4
"""How strong a tick is beside the begin of a phase."""
LEVEL = 0.3
_LENGTH_S, _ATTACK_S, _DECAY_S = 0.06, 0.003, 0.014
_PITCH_Hz = {Phase.RISE: 1046.5, Phase.TOP: 880.0, Phase.LOWERING: 659.26, Phase.BOTTOM: 523.25}
"""Equal temperament, A4 = 440 Hz (ISO 16): up is high, down is low; all where ageing ears still hear well."""


@dataclass(frozen=True, slots=True)
class Click:
    """One click of a cycle: when (s from the cycle's begin), in which phase, and whether that begins with it."""

    at_s: float
    phase: Phase
    accent: bool


def order_of(first: Phase) -> tuple[Phase, ...]:
    """Return the phases of a cycle that begins with `first`: the rise, or the lowering, as in a squat."""
    return _DOWN_FIRST if first is Phase.LOWERING else ORDER


def lengths_s(tempo: Tempo) -> dict[Phase, float]:
    """Return how long each phase is asked to take, s."""
    return dict(zip(ORDER, (tempo.rise_s, tempo.top_s, tempo.lowering_s, tempo.pause_s), strict=True))


def clicks(tempo: Tempo, first: Phase = Phase.RISE) -> tuple[Click, ...]:
    """Return the clicks of one cycle in order: an accent where a phase begins, and a tick each second within it."""
    found, begin_s, lengths = [], 0.0, lengths_s(tempo)
    for phase in order_of(first):
        length_s = lengths[phase]
        if length_s > 0.0:
            found.append(Click(begin_s, phase, accent=True))
            ticks = int((length_s - APART_S) / BEAT_S + 1e-9)
            found += [Click(begin_s + beat * BEAT_S, phase, accent=False) for beat in range(1, ticks + 1)]
        begin_s += length_s
    return tuple(found)


def render(pulse: Pulse, first: int, count: int, rate_Hz: float) -> NDArray[np.float32]:
    """Return `count` samples of the metronome from sample `first` on, float32, shape (count,).

    Samples are numbered from the cycle's begin; the count-in has numbers below 0. A click begins on the sample next to
    its instant; cycles that repeat are a whole number of samples long.
    """
    lead, cycle = _lead_in(pulse.count_in, pulse.first, rate_Hz), _cycle(pulse.tempo, pulse.first, rate_Hz)
    numbers = np.arange(first, first + count)
    sound = np.zeros(count, dtype=np.float32)
    before = (numbers < 0) & (numbers >= -lead.size)
    sound[before] = lead[numbers[before] + lead.size]
    if pulse.repeats:
        numbers = np.where(numbers >= 0, numbers % cycle.size, numbers)
    within = (numbers >= 0) & (numbers < cycle.size)
    sound[within] = cycle[numbers[within]]
    return sound


def beat(pulse: Pulse) -> float:
    """Return how far the newest click has faded to the eye: 1 where a phase begins, TICK_PART on a tick, down to 0."""
    since_s = pulse.since_s
    if since_s < 0.0:
        past_s = since_s % BEAT_S
        return _fade(past_s) if since_s >= -pulse.count_in * BEAT_S else 0.0
    if pulse.repeats:
        since_s %= pulse.tempo.cycle_s
    past = [click for click in clicks(pulse.tempo, pulse.first) if click.at_s <= since_s]
    return _fade(since_s - past[-1].at_s) * (1.0 if past[-1].accent else TICK_PART)


def _fade(past_s: float) -> float:
    return max(0.0, 1.0 - past_s / FADE_S)


@lru_cache(maxsize=4)
def _cycle(tempo: Tempo, first: Phase, rate_Hz: float) -> NDArray[np.float32]:
    sound = np.zeros(round(tempo.cycle_s * rate_Hz), dtype=np.float32)
    for click in clicks(tempo, first):
        level = LEVEL if click.accent else LEVEL * TICK_PART
        _lay(sound, round(click.at_s * rate_Hz), level * _knock(_PITCH_Hz[click.phase], rate_Hz))
    return sound


@lru_cache(maxsize=4)
def _lead_in(beats: int, first: Phase, rate_Hz: float) -> NDArray[np.float32]:
    sound = np.zeros(round(beats * BEAT_S * rate_Hz), dtype=np.float32)
    for number in range(beats):
        _lay(sound, round(number * BEAT_S * rate_Hz), LEVEL * _knock(_PITCH_Hz[first] / 2.0, rate_Hz))
    return sound


def _knock(pitch_Hz: float, rate_Hz: float) -> NDArray[np.float64]:
    """Return a short knock, shape (samples,), that swells, dies away and ends in silence: no crack."""
    time_s = np.arange(round(_LENGTH_S * rate_Hz)) / rate_Hz
    swell = np.clip(np.minimum(time_s / _ATTACK_S, (_LENGTH_S - time_s) / (4.0 * _ATTACK_S)), 0.0, 1.0)
    knock: NDArray[np.float64] = np.sin(2.0 * np.pi * pitch_Hz * time_s) * np.exp(-time_s / _DECAY_S) * swell
    return knock


def _lay(sound: NDArray[np.float32], first: int, knock: NDArray[np.float64]) -> None:
    piece = sound[first : first + knock.size]
    piece += knock[: piece.size].astype(np.float32)
