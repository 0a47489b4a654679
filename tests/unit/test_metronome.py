"""The metronome: when it clicks, sample by sample, and how the beat fades."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from weightshare.exercise import Phase, Tempo
from weightshare.practice.metronome import FADE_S, TICK_PART, beat, clicks, render
from weightshare.practice.screen import Pulse

RATE_HZ = 48_000
TEMPO = Tempo(1.0, 1.0, 3.0, 1.0)


def onsets(sound: np.ndarray[tuple[int], np.dtype[np.float32]]) -> list[int]:
    """Return the sample before each knock's first sounding one: a knock begins with a zero."""
    loud = np.flatnonzero(sound != 0.0)
    starts = loud[np.concatenate(([True], np.diff(loud) > RATE_HZ // 10))]
    return [int(start) - 1 for start in starts]


def test_each_phase_begins_with_an_accent_and_each_second_within_it_ticks() -> None:
    found = [(click.at_s, click.phase, click.accent) for click in clicks(TEMPO)]
    assert found == [
        (0.0, Phase.RISE, True),
        (1.0, Phase.TOP, True),
        (2.0, Phase.LOWERING, True),
        (3.0, Phase.LOWERING, False),
        (4.0, Phase.LOWERING, False),
        (5.0, Phase.BOTTOM, True),
    ]


def test_a_phase_of_no_length_is_silent_and_a_tick_keeps_away_from_the_next_phase() -> None:
    found = [(click.at_s, click.accent) for click in clicks(Tempo(1.2, 0.0, 2.25, 0.0))]
    assert found == [(0.0, True), (1.2, True), (pytest.approx(2.2), False), (pytest.approx(3.2), False)]


def test_a_squat_begins_on_the_way_down() -> None:
    accents = [(click.at_s, click.phase) for click in clicks(TEMPO, Phase.LOWERING) if click.accent]
    assert accents == [(0.0, Phase.LOWERING), (3.0, Phase.TOP), (4.0, Phase.RISE), (5.0, Phase.BOTTOM)]


def test_clicks_begin_on_their_very_sample() -> None:
    sound = render(Pulse(1, TEMPO, 0.0), 0, 7 * RATE_HZ, RATE_HZ)
    assert sound.dtype == np.float32 and sound.shape == (7 * RATE_HZ,)
    assert onsets(sound) == [round(click.at_s * RATE_HZ) for click in clicks(TEMPO)]


def test_a_thousand_cycles_later_the_clicks_are_still_on_their_samples() -> None:
    odd = Tempo(1.1, 0.7, 1.9, 0.333)
    pulse = Pulse(1, odd, 0.0, repeats=True)
    length = round(odd.cycle_s * RATE_HZ)
    np.testing.assert_array_equal(render(pulse, 1000 * length, length, RATE_HZ), render(pulse, 0, length, RATE_HZ))


def test_however_the_sound_is_cut_it_is_the_same() -> None:
    pulse = Pulse(1, TEMPO, 0.0, count_in=4, repeats=True)
    first, count = -5 * RATE_HZ, 20 * RATE_HZ
    whole = render(pulse, first, count, RATE_HZ)
    edges = [0, 1, 511, 4096, 100_000, 240_001, 700_000, count]
    pieces = [render(pulse, first + begin, end - begin, RATE_HZ) for begin, end in pairwise(edges)]
    np.testing.assert_array_equal(np.concatenate(pieces), whole)


def test_a_cycle_that_does_not_repeat_falls_silent() -> None:
    assert not render(Pulse(1, TEMPO, 0.0), 6 * RATE_HZ, RATE_HZ, RATE_HZ).any()


def test_a_count_in_is_a_second_apart_and_ends_a_second_before_the_begin() -> None:
    pulse = Pulse(1, TEMPO, -4.0, count_in=4)
    lead = render(pulse, -6 * RATE_HZ, 6 * RATE_HZ, RATE_HZ)
    assert [start - 6 * RATE_HZ for start in onsets(lead)] == [-4 * RATE_HZ, -3 * RATE_HZ, -2 * RATE_HZ, -RATE_HZ]


def test_ticks_are_softer_than_accents_and_nothing_cracks() -> None:
    sound = render(Pulse(1, TEMPO, 0.0), 0, 6 * RATE_HZ, RATE_HZ)
    accent, tick = (np.abs(sound[begin * RATE_HZ :][: RATE_HZ // 2]).max() for begin in (2, 3))
    assert tick == pytest.approx(TICK_PART * accent, rel=1e-5) and 0.1 < accent < 0.4
    # a jump would be heard as a crack: nothing rises faster than the tone itself does
    assert np.abs(np.diff(sound)).max() < 0.4 * 2 * np.pi * 1100 / RATE_HZ


@pytest.mark.parametrize(
    ("since_s", "repeats", "seen"),
    [
        (0.0, False, 1.0),
        (FADE_S / 2, False, 0.5),
        (0.9, False, 0.0),
        (3.0, False, TICK_PART),
        (6.0, False, 0.0),
        (6.0, True, 1.0),
        (-3.0, False, 1.0),
        (-2.5, False, 0.0),
        (-4.5, False, 0.0),
    ],
)
def test_the_beat_is_seen_when_it_is_heard(since_s: float, repeats: bool, seen: float) -> None:
    assert beat(Pulse(1, TEMPO, since_s, count_in=4, repeats=repeats)) == pytest.approx(seen, abs=1e-9)
