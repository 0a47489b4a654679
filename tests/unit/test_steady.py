"""What changes faster than anybody reads is held; what must be done at once is not."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from tests.shown import snapshot
from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.screen import Figures, Screen, Shape, Step
from weightshare.practice.steady import HEADLINE_S, Steadier
from weightshare.state import State

MORE, GOOD, EASE = "More weight on it.", "Good, just so.", "Ease a little off."
LINES = {State.TOO_LITTLE: MORE, State.IN_BAND: GOOD, State.TOO_MUCH: EASE, State.ONE_FOOT_OFF: "Both feet."}


def push(steadier: Steadier, time_s: float, state: State, *, asking: bool = False, said: str = "", **more: Any) -> str:
    values: dict[str, Any] = {"headline": LINES.get(state, ""), "state": said or str(state), "shape": Shape.DISC} | more
    screen = Screen(Step.PRACTISE, injured=Side.LEFT, **values)
    return steadier.push(screen, snapshot(state, time_s=time_s), asking=asking).headline


def test_a_headline_at_the_bands_edge_does_not_flicker() -> None:
    steadier = Steadier()
    states = [State.IN_BAND if place % 2 else State.TOO_LITTLE for place in range(120)]
    shown = [push(steadier, 10.0 + 0.02 * place, state) for place, state in enumerate(states)]
    changes = [place for place in range(1, 120) if shown[place] != shown[place - 1]]
    assert 1 <= len(changes) <= 2.4 / HEADLINE_S
    assert all(0.02 * (later - earlier) >= HEADLINE_S - 1e-9 for earlier, later in pairwise(changes))


@pytest.mark.parametrize("state", [State.TOO_MUCH, State.ONE_FOOT_OFF])
def test_what_must_be_done_at_once_is_said_at_once(state: State) -> None:
    steadier = Steadier()
    push(steadier, 10.0, State.IN_BAND)
    assert push(steadier, 10.02, state) == LINES[state]
    assert push(steadier, 10.04, State.IN_BAND) == LINES[state], "and is read before the next"
    assert push(steadier, 10.021 + HEADLINE_S, State.IN_BAND) == GOOD


def test_too_much_of_a_band_that_moves_itself_is_nothing_to_hurry_for() -> None:
    steadier = Steadier()
    push(steadier, 10.0, State.IN_BAND)
    assert push(steadier, 10.02, State.TOO_MUCH, said="shifting") == GOOD


def test_a_question_its_answer_and_a_lost_link_wait_for_nothing() -> None:
    steadier = Steadier()
    push(steadier, 10.0, State.IN_BAND)
    assert push(steadier, 10.02, State.IN_BAND, asking=True, headline="End?") == "End?"
    assert push(steadier, 10.04, State.IN_BAND) == GOOD
    assert push(steadier, 10.06, State.IN_BAND, blank=True, headline="Link lost.") == "Link lost."


def test_time_that_goes_back_holds_nothing() -> None:
    steadier = Steadier()
    push(steadier, 10.0, State.IN_BAND)
    assert push(steadier, 0.1, State.TOO_LITTLE) == MORE


def test_figures_are_held_for_a_fifth_of_a_second_in_the_same_state() -> None:
    steadier, shown = Steadier(), []
    for time_s, share, state in ((1.0, "72", "in the band"), (1.1, "76", "in the band"), (1.15, "69", "too little")):
        screen = Screen(Step.PRACTISE, "", state, Shape.DISC, Side.LEFT, Figures(share=share))
        shown.append(steadier.push(screen, snapshot(time_s=time_s)).figures.share)
    assert shown == ["72", "72", "69"]


def test_who_was_told_to_step_off_is_told_so_long_enough() -> None:
    """An overload came and went within a second, and the next repetition was asked for."""
    steadier, off = Steadier(), words.practise_headline(State.OVERLOAD, Side.LEFT)
    push(steadier, 10.0, State.OVERLOAD, headline=off)
    after = (11.0, State.IN_BAND), (12.0, State.TOO_MUCH), (12.9, State.IN_BAND), (13.1, State.IN_BAND)
    assert [push(steadier, time_s, state) for time_s, state in after] == [off, off, off, GOOD]
