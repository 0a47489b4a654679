"""Whatever of a repetition or a set cannot be had is null, and a warning says why."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias

import pytest

from tests.unit.heels import heeled
from tests.unit.plates import lose
from tests.unit.raises import Scene, raises
from tests.unit.test_result import NOT_ASKED, WORDS, nulls
from weightshare.exercise import Exercise, SetSpan, Tempo
from weightshare.model import HEIGHT_COLUMNS, PART_COLUMNS, Side, Trace
from weightshare.pipeline.analysis import analyse_trace
from weightshare.task import Settings

LEFT_HEEL, RIGHT_HEEL = HEIGHT_COLUMNS
TEMPO = Tempo(1.0, 1.0, 2.0, 1.0)
Change: TypeAlias = Callable[[Trace], Trace]


def without(*names: str) -> Change:
    """Return what takes columns out of a trace."""
    return lambda trace: Trace(trace.time_s, {name: x for name, x in trace.columns.items() if name not in names})


def losing(begin_s: float, end_s: float, *names: str) -> Change:
    """Return what takes readings out of a trace."""
    return lambda trace: lose(trace, begin_s, end_s, *names)


def late(trace: Trace) -> Trace:
    """Return a trace that begins half a second before the first rise."""
    return Trace(trace.time_s[450:], {name: x[450:] for name, x in trace.columns.items()})


CHANGES: dict[str, Change] = {
    "all was measured": lambda trace: trace,
    "one heel": without(RIGHT_HEEL),
    "no heels": without(*HEIGHT_COLUMNS),
    "neither heels nor parts": without(*HEIGHT_COLUMNS, *PART_COLUMNS),
    "no load at the top": losing(6.3, 7.0, "left_N", "right_N"),
    "no load in a lowering": losing(7.3, 8.0, "left_N", "right_N"),
    "one heel unread": losing(6.5, 7.5, RIGHT_HEEL),
    "no time to be weighed": late,
}
SETTINGS = {
    "nothing known": Settings(Side.LEFT),
    "a target": Settings(Side.LEFT, 75.0),
    "raises": Settings(Side.LEFT, 50.0, exercise=Exercise.RAISE),
    "lowerings, no target": Settings(Side.LEFT, exercise=Exercise.LOWERING, tempo=TEMPO),
    "one leg": Settings(Side.LEFT, 100.0, exercise=Exercise.SINGLE_RAISE),
    "no time at the top": Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING, tempo=replace(TEMPO, top_s=0.0)),
    "a ceiling": Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING),
}
BY_FORCE = ("instants of a repetition", "too slow for the forces")
TOLD = WORDS | {
    "repetitions.top_s": BY_FORCE,
    "repetitions.lowering_s": BY_FORCE,
    "repetitions.end_s": BY_FORCE,
    "repetitions.rise_duration_s": BY_FORCE,
    "repetitions.top_duration_s": (*BY_FORCE, "the stay at the bottom"),
    "repetitions.lowering_duration_s": BY_FORCE,
    "repetitions.height_injured_mm": "height",
    "repetitions.height_uninjured_mm": "height",
    "repetitions.load_travel_injured_J": "height",
    "repetitions.load_travel_uninjured_J": "height",
    "repetitions.top_height_sd_mm": ("height", "how steady the top"),
    "repetitions.lowering_in_band_percent": ("band", "share of a repetition", *BY_FORCE),
    "repetitions.lowering_least_N": ("share of a repetition", *BY_FORCE),
    "repetitions.share_rise_percent": ("share of a repetition", *BY_FORCE),
    "repetitions.share_top_percent": ("share of a repetition", "at the top", "the stay at the bottom", *BY_FORCE),
    "repetitions.share_lowering_percent": ("share of a repetition", *BY_FORCE),
    "repetitions.share_lowering_thirds_percent": ("share of a repetition", *BY_FORCE),
    "repetitions.top_share_sd_points": (
        "share of a repetition",
        "at the top",
        "how steady the top",
        "the stay at the bottom",
        *BY_FORCE,
    ),
    "repetitions.supported": "repetition was supported",
    "sets.height_mm": ("height", "no repetition counted", "repetitions are not known"),
    "sets.load_travel_injured_J": ("height", "no repetition counted", "repetitions are not known"),
    "sets.load_travel_uninjured_J": ("height", "no repetition counted", "repetitions are not known"),
    "sets.share_lowering_percent": ("share of a repetition", "no repetition counted", *BY_FORCE),
    "sets.lowering_duration_s": ("no repetition counted", *BY_FORCE),
    "sets.lowering_in_band_percent": ("band", "no repetition counted", *BY_FORCE),
    "sets.fatigue": ("fatigue", "no repetition counted"),
    "sets.fatigue.height_fall_percent": "height",
    "sets.fatigue.share_fall_points": ("share of a repetition", *BY_FORCE),
    "sets.fatigue.tempo_fall_percent": ("metronome", *BY_FORCE),
}
"""What a warning about each null has to speak of; one of them, where there are several."""


@pytest.mark.parametrize("change", CHANGES)
@pytest.mark.parametrize("setting", SETTINGS)
def test_every_null_of_a_repetition_or_a_set_has_a_warning(change: str, setting: str) -> None:
    check(CHANGES[change](heeled(raises((1.0, 1.0, 2.0), 5, turn=0.25))), SETTINGS[setting])


def test_too_few_readings_at_the_top_are_told() -> None:
    trace = heeled(raises((1.0, 0.0, 1.0), 3), rate_Hz=14.0)
    assert "how steady the top" in check(trace, SETTINGS["raises"])


@pytest.mark.parametrize("tempo", [(2.0, 2.0, 4.0), (4.0, 3.0, 8.0), (0.5, 0.0, 0.5)])
def test_what_the_forces_cannot_tell_is_told(tempo: tuple[float, float, float]) -> None:
    check(without(*HEIGHT_COLUMNS)(raises(tempo, 6, turn=0.25).trace()), SETTINGS["a target"])


def test_what_a_squat_leaves_out_is_told() -> None:
    scene = Scene()
    for _ in range(5):
        scene.squat(1.5, 0.5, 1.2).rest(1.5)
    check(scene.trace(), Settings(Side.LEFT, 50.0, exercise=Exercise.SQUAT))


def check(trace: Trace, settings: Settings) -> str:
    """Look for nulls of which no warning speaks; return the warnings."""
    spans = [SetSpan(1, 0.0, 20.0, paced_from_s=5.0), SetSpan(2, 20.0, 24.0)] if settings.exercise else []
    found = analyse_trace(trace, settings, spans).to_json()
    told = " / ".join(found["warnings"])
    unsaid = [place for place in set(nulls(found)) - NOT_ASKED if not _is_told(place, told)]
    assert unsaid == [], told
    assert len(set(found["warnings"])) == len(found["warnings"])
    return told


def _is_told(place: str, told: str) -> bool:
    words = TOLD[place]
    return any(word in told for word in ((words,) if isinstance(words, str) else words))


@pytest.mark.parametrize(
    ("exercise", "target", "steered"),
    [
        (Exercise.RAISE, None, False),
        (Exercise.RAISE, 50.0, False),
        (Exercise.LOWERING, 75.0, True),
        (Exercise.SINGLE_LOWERING, None, True),
        (Exercise.SINGLE_RAISE, None, True),
    ],
)
def test_the_share_of_work_on_one_leg_is_no_symmetry(exercise: Exercise, target: float | None, steered: bool) -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 1))
    symmetry = analyse_trace(trace, Settings(Side.LEFT, target, exercise=exercise)).symmetry
    assert symmetry.steered is steered and symmetry.limb_symmetry_index_percent is not None
