"""The guided calibration in a terminal, and in a pipe: what is new is said once."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest

from weightshare.metrology.reading import Kind, Placement
from weightshare.model import Side
from weightshare.workbench.plan import Ask
from weightshare.workbench.terminal import BenchLine, live_text
from weightshare.workbench.view import BenchView, Stage
from weightshare.workbench.wording import kilograms, other_load

ASK = Ask(Placement(1, Side.LEFT, Kind.SERIES, (0,)), 10.0)
VIEW = BenchView(Stage.ASK, ASK, 2, 13, "Lay it on", "Waiting until it lies there", load_kg=(0.02, None))


def shown(*views: BenchView) -> str:
    """Return what is written where there is no terminal."""
    stream = io.StringIO()
    line = BenchLine(stream)
    for time_s, view in enumerate(views):
        line.show(view, float(time_s))
    line.close()
    return stream.getvalue()


def test_each_step_and_each_trouble_is_said_once() -> None:
    wrong = replace(VIEW, trouble="Another load, or press Space to take it as it lies")
    told = shown(VIEW, VIEW, wrong, wrong, VIEW, replace(VIEW, number=3, headline="Take it off"))
    assert told.splitlines() == [
        "2/13  Lay it on",
        "    ! Another load, or press Enter to take it as it lies",
        "3/13  Take it off",
    ]


def test_a_trouble_in_which_a_number_alone_wavers_is_said_once() -> None:
    read = [other_load(kg, Ask(Placement(1, Side.LEFT, Kind.SERIES, ()), 0.0)) for kg in (0.9, 1.04, -0.0564, 8.82e-5)]
    told = shown(*(replace(VIEW, trouble=words) for words in read))
    assert [line for line in told.splitlines() if "!" in line] == [
        "    ! About 0.9 kg still lie on the LEFT plate: take everything off, or press Enter to take it as it lies"
    ]


@pytest.mark.parametrize(
    ("kg", "words"), [(-0.0564, "-0.1 kg"), (8.82e-5, "0 kg"), (-0.04, "0 kg"), (19.96, "20 kg"), (10.04, "10 kg")]
)
def test_a_load_is_said_to_a_tenth_of_a_kilogram(kg: float, words: str) -> None:
    assert kilograms(kg) == words


def test_a_step_that_begins_again_says_why() -> None:
    told = shown(VIEW, replace(VIEW, words="The load moved while it was measured: this step begins again"))
    assert told.splitlines()[-1] == "    ! The load moved while it was measured: this step begins again"


def test_the_line_shows_how_far_it_is_and_what_lies_there() -> None:
    text = live_text(replace(VIEW, stage=Stage.MEASURE, part=0.5, left_s=180.0))
    assert "[##########..........]" in text
    assert "left   0.0 kg  right   -   kg" in text
    assert "about 3 min left" in text
