"""The guided calibration in a terminal, and in a pipe: what is new is said once."""

from __future__ import annotations

import io
from dataclasses import replace

from weightshare.metrology.reading import Kind, Placement
from weightshare.model import Side
from weightshare.workbench.plan import Ask
from weightshare.workbench.terminal import BenchLine, live_text
from weightshare.workbench.view import BenchView, Stage

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


def test_a_step_that_begins_again_says_why() -> None:
    told = shown(VIEW, replace(VIEW, words="The load moved while it was measured: this step begins again"))
    assert told.splitlines()[-1] == "    ! The load moved while it was measured: this step begins again"


def test_the_line_shows_how_far_it_is_and_what_lies_there() -> None:
    text = live_text(replace(VIEW, stage=Stage.MEASURE, part=0.5, left_s=180.0))
    assert "[##########..........]" in text
    assert "left   0.0 kg  right   -   kg" in text
    assert "about 3 min left" in text
