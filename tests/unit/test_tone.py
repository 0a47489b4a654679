"""Sounds: what they are made of, and when they are due."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from weightshare.model import Side
from weightshare.practice.screen import Alarm, AlarmKind, Figures, Path, Screen, Shape, Step, Summary
from weightshare.practice.tone import Cue, CueTeller, Samples, synthesise

RATE_HZ = 48_000


def screen(counts: bool, held_s: float = 0.0, step: Step = Step.PRACTISE) -> Screen:
    figures = Figures(held=str(int(held_s)), held_fraction=min(1.0, held_s / 10.0))
    return Screen(step, "", "", Shape.DISC, Side.LEFT, figures=figures, path=Path(counts=counts))


@pytest.mark.parametrize("cue", list(Cue))
def test_a_sound_is_short_soft_and_has_no_hard_edge(cue: Cue) -> None:
    sound = synthesise(cue, RATE_HZ)
    assert sound.dtype == np.float32 and 0.03 * RATE_HZ < len(sound) < RATE_HZ
    assert 0.05 < np.max(np.abs(sound)) < 0.5
    assert abs(sound[0]) < 1e-3 and abs(sound[-1]) < 1e-3
    # a click is a jump: nothing rises faster than the tone itself does at this level
    assert np.max(np.abs(np.diff(sound))) < 0.5 * 2 * np.pi * 1600 / RATE_HZ


def pitch_Hz(sound: Samples) -> float:
    spectrum = np.abs(np.fft.rfft(sound * np.hanning(len(sound)), 1 << 17))
    return float(np.argmax(spectrum)) * RATE_HZ / (1 << 17)


def test_reaching_goes_up_and_losing_goes_down() -> None:
    """Equal temperament on A4 = 440 Hz (ISO 16): C5 523.25, E5 659.26, A4 440, E4 329.63 Hz."""
    for cue, first_Hz, last_Hz in ((Cue.REACH, 523.25, 659.26), (Cue.LOSE, 440.0, 329.63)):
        sound = synthesise(cue, RATE_HZ)
        assert pitch_Hz(sound[: int(0.10 * RATE_HZ)]) == pytest.approx(first_Hz, rel=0.02)
        assert pitch_Hz(sound[-int(0.14 * RATE_HZ) :]) == pytest.approx(last_Hz, rel=0.02)


def test_the_rate_changes_the_samples_and_not_the_length() -> None:
    assert len(synthesise(Cue.GOAL, 8000)) == pytest.approx(len(synthesise(Cue.GOAL, 48_000)) / 6, abs=1)


def test_reach_then_a_tick_each_second_then_the_goal_then_nothing() -> None:
    teller = CueTeller()
    cues = [teller.push(screen(True, t / 10), t / 10) for t in range(0, 125)]
    told = [(t / 10, cue) for t, cue in enumerate(cues) if cue is not None]
    assert told[0] == (0.0, Cue.REACH)
    assert told[1:] == [(float(second), Cue.HOLD) for second in range(1, 10)] + [(10.0, Cue.GOAL)]


def test_losing_is_said_at_once_and_once() -> None:
    teller = CueTeller()
    teller.push(screen(True), 0.0)
    assert teller.push(screen(False, 2.0), 2.0) is Cue.LOSE
    assert teller.push(screen(False, 2.0), 3.0) is None


def test_the_edge_of_the_band_does_not_chatter_and_the_last_word_is_true() -> None:
    teller = CueTeller()
    told = [teller.push(screen(bool(step % 2)), step * 0.02) for step in range(50)]
    assert 2 <= sum(cue is not None for cue in told) <= 4
    last = [cue for cue in told if cue is not None][-1]
    wanted = [Cue.LOSE, None] if last is Cue.REACH else [None, None]
    assert [teller.push(screen(False), time_s) for time_s in (2.0, 3.0)] == wanted
    assert teller.push(screen(True), 4.0) is Cue.REACH
    assert teller.push(screen(False), 4.1) is None
    assert teller.push(screen(False), 4.5) is Cue.LOSE


def lifting(count: int, counts: bool, cued: bool = True, **more: Any) -> Screen:
    figures = Figures(held=str(count), held_unit="", held_fraction=count / 10)
    values: dict[str, Any] = {"figures": figures, "path": Path(counts=counts, cued=cued)} | more
    return Screen(Step.PRACTISE, "", "", Shape.DISC, Side.LEFT, **values)


def test_a_band_that_turns_is_neither_reached_nor_lost() -> None:
    """Up evenly, the turn at the top, down in the band but for a moment, back to even; twice."""
    told, teller = [], CueTeller()
    for start_s in (0.0, 10.0):
        for at_s, counts, cued in (
            (0.0, True, False),
            (1.0, False, False),
            (1.5, True, False),
            (2.0, True, True),
            (3.0, False, True),
            (3.5, True, True),
            (4.0, False, False),
        ):
            told.append(teller.push(lifting(0, counts, cued), start_s + at_s))
    assert told == [None, None, None, Cue.REACH, Cue.LOSE, Cue.REACH, None] * 2


def test_each_repetition_is_counted_by_a_sound_in_the_band_or_not() -> None:
    teller = CueTeller()
    told = [teller.push(lifting(count, False, cued=False), count * 5.0) for count in (0, 1, 1, 2)]
    assert told == [None, Cue.COUNT, None, Cue.COUNT]


def test_the_end_of_a_set_the_begin_of_the_next_and_the_end_of_all_have_sounds() -> None:
    done = Figures(holds_done=3, holds_asked=3)
    rest = Screen(Step.REST, "", "", Shape.RING, Side.LEFT)
    end = Screen(Step.DONE, "", "", Shape.NONE, Side.LEFT, figures=done, summary=Summary(heads=("set",)))
    shown = [lifting(9, False), rest, rest, lifting(0, False), end, end]
    teller = CueTeller()
    told = [teller.push(screen, float(time_s)) for time_s, screen in enumerate(shown)]
    assert told[1:] == [Cue.REST, None, Cue.BEGIN, Cue.GOAL, None]
    ended_early = replace(end, figures=replace(done, holds_done=1))
    assert [CueTeller().push(screen, 0.0) for screen in (lifting(0, False), ended_early)][-1] is None


def test_a_blind_set_is_silent() -> None:
    blind = Screen(Step.PRACTISE, "", "", Shape.NONE, Side.LEFT, path=Path(hidden=True))
    teller = CueTeller()
    shown = [Screen(Step.REST, "", "", Shape.RING, Side.LEFT), blind, blind]
    assert [teller.push(screen, float(time_s)) for time_s, screen in enumerate(shown)] == [None] * 3


@pytest.mark.parametrize("hidden", [False, True])
def test_an_alarm_goes_before_all_else_and_comes_again_while_it_stands(hidden: bool) -> None:
    quiet = lifting(0, False, path=Path(hidden=hidden))
    over, unread = (replace(quiet, alarm=Alarm(kind, "", "")) for kind in (AlarmKind.OVER, AlarmKind.UNREAD))
    teller = CueTeller()
    told = [teller.push(over, step / 10) for step in range(20)]
    assert [step / 10 for step, cue in enumerate(told) if cue is Cue.OVER] == [0.0, 0.9, 1.8]
    assert set(told) == {Cue.OVER, None}
    assert teller.push(unread, 1.9) is Cue.UNREAD, "a new alarm is not kept waiting"
    assert teller.push(quiet, 2.0) is None
    assert teller.push(unread, 2.1) is Cue.UNREAD


def test_nothing_sounds_before_practice() -> None:
    teller = CueTeller()
    assert teller.push(screen(True, step=Step.READY), 0.0) is None
    assert teller.push(replace(screen(True), path=None), 0.1) is None
    assert teller.push(screen(True), 0.2) is Cue.REACH
