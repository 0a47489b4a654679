"""Figures and words: nothing contradicts the state, nothing is promised before it is so."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.shown import AGREED_WORDS
from weightshare.exercise import Ceiling
from weightshare.model import Side
from weightshare.practice import alarm, words
from weightshare.practice.check import Verdict
from weightshare.state import State
from weightshare.task import Settings

BAND = Settings(Side.LEFT, target_percent=75.0, tolerance_percent=5.0)
ODD_BAND = Settings(Side.LEFT, target_percent=72.5, tolerance_percent=5.0)


@pytest.mark.parametrize(
    ("share", "settings", "text"),
    [
        (74.4, BAND, "74"),
        (74.5, BAND, "75"),
        (69.6, BAND, "69"),
        (70.0, BAND, "70"),
        (80.0, BAND, "80"),
        (80.3, BAND, "81"),
        (77.5, ODD_BAND, "77"),
        (77.51, ODD_BAND, "78"),
        (67.5, ODD_BAND, "68"),
        (67.49, ODD_BAND, "67"),
        (69.6, Settings(Side.LEFT), "70"),
    ],
)
def test_a_share_is_not_rounded_over_an_edge_of_the_band(share: float, settings: Settings, text: str) -> None:
    assert words.whole_percent(share, settings) == text


def test_a_whole_percent_says_what_the_state_says_wherever_a_whole_number_can() -> None:
    for step in range(6500, 8600):
        share = step / 100
        shown = float(words.whole_percent(share, BAND))
        assert (abs(shown - 75.0) <= 5.0) == (abs(share - 75.0) <= 5.0)
        assert abs(shown - share) < 1.0


def test_seconds_are_cut_so_that_a_goal_is_not_shown_early() -> None:
    assert words.seconds(29.999) == "29" and words.seconds(30.0) == "30" and words.seconds(0.4) == "0"


def test_load_in_kilograms_is_by_standard_gravity() -> None:
    """3rd CGPM, 1901: 9.80665 m/s^2."""
    assert words.load_kg(9.80665 * 53.44) == "53.4 kg"
    assert words.body_percent(420.0, 700.0) == "60 % of body weight"


def test_every_state_has_words_and_something_to_do() -> None:
    for state in State:
        assert words.state_words(state)
        headline = words.practise_headline(state, Side.LEFT)
        assert headline.endswith(".") and len(headline) < 60


def test_the_states_that_a_patient_meets_are_said_in_the_agreed_words() -> None:
    said = {words.state_words(state) for state in State} | {words.LINK_LOST}
    assert said >= AGREED_WORDS


def test_the_band_is_cut_at_nothing_and_all() -> None:
    assert words.band_words(Settings(Side.LEFT, target_percent=97.5)) == "aim 97.5, from 92.5 to 100"
    assert words.band_words(Settings(Side.LEFT)) == ""


def test_the_cautions_say_what_they_must() -> None:
    said = " ".join(words.CAUTIONS)
    for phrase in (
        "rail within reach",
        "someone by",
        "level, hard floor",
        "surgeon",
        "Stop on pain",
        "Seek help at once",
        "sudden snap",
        "hot swollen calf",
        "numbness",
        "breathlessness",
        "not a certified medical device",
    ):
        assert phrase in said


@pytest.mark.parametrize(
    ("force_N", "said"), [(-0.3, "0.0 kg"), (0.3, "0.0 kg"), (-6.0, "-0.6 kg"), (588.399, "60.0 kg")]
)
def test_next_to_nothing_has_no_sign(force_N: float, said: str) -> None:
    """An empty plate was said to carry -0.0 kg."""
    assert words.load_kg(force_N) == said
    assert words.body_percent(-0.3, 700.0) == "0 % of body weight"


def test_nobody_is_hurried_off_a_plate_or_away_from_the_rail() -> None:
    """`Step off` named no rail, and `Lean less on the rail` asked for more than may be safe."""
    assert "rail" in words.practise_headline(State.OVERLOAD, Side.LEFT)
    assert "as much as you need" in words.practise_headline(State.ELSEWHERE, Side.LEFT)


@pytest.mark.parametrize(
    ("source", "virtual", "steered", "deaf"),
    [
        ("rig:", True, False, True),
        ("rig:steady", True, False, True),
        ("rig:steered", True, True, False),
        ("rig:steered,faults=loss", True, True, False),
        ("tcp://127.0.0.1:7000", False, False, False),
        ("serial:COM3", False, False, False),
    ],
)
def test_virtual_people_are_called_virtual(source: str, virtual: bool, steered: bool, deaf: bool) -> None:
    assert ("irtual" in words.source_words(source)) is virtual
    assert words.is_steered(source) is steered
    assert words.cannot_be_asked(source) is deaf


@pytest.mark.parametrize(
    ("left_s", "said"), [(60.0, "1:00"), (59.01, "1:00"), (9.0, "0:09"), (0.2, "0:01"), (0.0, "0:00"), (-3.0, "0:00")]
)
def test_a_clock_that_runs_out_says_nothing_before_it_has(left_s: float, said: str) -> None:
    assert words.minutes(left_s) == said


def test_a_band_without_an_upper_edge_has_no_too_much() -> None:
    open_band = replace(BAND, one_sided=True)
    assert [words.is_inside(share, open_band) for share in (69.9, 70.0, 99.0)] == [False, True, True]
    assert words.whole_percent(80.3, open_band) == "80"


def test_the_alarms_words_name_what_is_known() -> None:
    limit_N, most_N = 20.0 * 9.80665, 26.5 * 9.80665
    assert alarm.over_words(18.2 * 9.80665, most_N, limit_N) == "now 18.2 kg, at most 26.5 kg, limit 20 kg"
    assert alarm.over_words(None, None, 17.5 * 9.80665) == "limit 17.5 kg"
    assert alarm.over_words(None, None, None) == ""


@pytest.mark.parametrize(
    ("ceiling", "limit"), [(Ceiling(kg=20.0), "20 kg"), (Ceiling(percent=25.0), "25 % of body weight")]
)
def test_who_has_a_limit_is_not_asked_to_stand_evenly(ceiling: Ceiling, limit: str) -> None:
    """Weighing asked for both feet: half of body weight on a foot that may bear 20 kg."""
    limited = Settings(Side.LEFT, 20.0, ceiling=ceiling)
    for state in (State.NOBODY, State.WEIGHING):
        headline, note = words.weigh_words(state, limited)
        assert "most of your weight on the right foot" in headline and "both" not in headline
        assert note == f"No more than {limit} on the left foot. Keep a hand by the rail."
        assert words.state_headline(state, limited) == headline
    free = replace(limited, ceiling=None)
    assert words.weigh_words(State.WEIGHING, free) == ("Stand still on both feet.", "")


def test_the_check_asks_no_load_of_the_injured_foot_and_names_its_limit() -> None:
    limit = words.limit_words(Settings(Side.LEFT, ceiling=Ceiling(kg=20.0)))
    assert limit == "No more than 20 kg on the left foot."
    assert limit in words.check_words(Verdict.SETTLING, Side.RIGHT, limit)[1]
    headline, note = words.check_words(Verdict.ASKING, Side.RIGHT, limit)
    assert "lean a little to the right" in headline and note.endswith(limit)
    headline, note = words.check_words(Verdict.ASKING, Side.RIGHT, limit, seated=True)
    assert (headline, note) == ("Press lightly with your right foot.", limit)
    assert "chair" in words.check_words(Verdict.SETTLING, Side.RIGHT, limit, seated=True)[0]
