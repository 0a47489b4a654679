"""Sessions by air from the first command to the kept record, with what breaks on the way."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.air.host import BOTH_ADDRESS, LEFT_ADDRESS, RIGHT_ADDRESS, Air, virtual_scales
from tests.air.practising import practising
from weightshare.model import Side
from weightshare.task import Goal, Settings

RIGHT_75 = Settings(Side.RIGHT, 75.0)
PAIR = (LEFT_ADDRESS, RIGHT_ADDRESS)
LOWERING = ("--stage", "lowering", "--tempo", "1-1-3-1", "--sets", "1", "--repetitions", "3")
HOLDS = ("--hold-goal", "2", "--holds", "9")


def test_a_set_of_lowerings_goes_on_over_a_link_that_is_lost_and_found_again(tmp_path: Path) -> None:
    # who stands there makes some more than the three that are counted: what is lost with the link is not done again
    _, pair = virtual_scales("raiser,stage=lowering,tempo=1-1-3-1,repetitions=9,seed=3", RIGHT_75)
    with Air(*pair) as air, practising(tmp_path, PAIR, *LOWERING) as practice:
        said = practice.until_told("1 of 3 raises")
        air.do(air.stack.switch, pair[1], False)
        said = practice.until_told("the link to the right scale was lost at", said)
        air.do(air.stack.switch, pair[1], True)
        practice.until_told("the link to the right scale is back at", said)
        analysis = practice.finish()
    assert [each["basis"] for each in analysis["repetitions"]] == ["height"] * 3
    assert all(abs(each["share_lowering_percent"] - 75.0) < 2.0 for each in analysis["repetitions"])
    (gap,) = analysis["gaps"]
    (done,) = analysis["sets"]
    assert done["from_s"] < gap["start_s"] < gap["end_s"] < done["to_s"]
    for each in analysis["repetitions"]:
        assert each["end_s"] <= gap["start_s"] or each["start_s"] >= gap["end_s"], "none goes over what was not seen"
    assert [each["side"] for each in analysis["alignment"]["scales"]] == ["left", "right"]


def crash_service(air: Air, back: bool) -> None:
    (air.revive_service if back else air.kill_service)()


def crash_bus(air: Air, back: bool) -> None:
    (air.revive_bus if back else air.kill_bus)()


def switch_adapter(air: Air, back: bool) -> None:
    air.do(air.stack.set_powered, back)


def pull_adapter(air: Air, back: bool) -> None:
    air.do(air.stack.plug_adapter if back else air.stack.unplug_adapter)


@pytest.mark.parametrize(
    ("happens", "words"),
    [
        (crash_service, "Bluetooth service does not run; install what Debian calls bluez, and start it"),
        pytest.param(
            switch_adapter,
            "Bluetooth is switched off on this computer; switch it on in its settings",
            marks=pytest.mark.soak,
        ),
        # of links alone these are tested in no time
        pytest.param(crash_bus, "Bluetooth service does not run", marks=pytest.mark.soak),
        pytest.param(pull_adapter, "this computer has no Bluetooth adapter; plug one in", marks=pytest.mark.soak),
    ],
)
def test_a_session_outlives_what_becomes_of_the_computers_bluetooth(
    happens: Callable[[Air, bool], None], words: str, tmp_path: Path
) -> None:
    _, pair = virtual_scales("steady", RIGHT_75, Goal(3.0, 9))
    with Air(*pair) as air, practising(tmp_path, PAIR, *HOLDS, "--seconds", "18") as practice:
        said = practice.until_told("in the band")
        happens(air, False)
        practice.until_told(words, said)
        happens(air, True)
        practice.until_told("the link to the left scale is back at", said)
        practice.until_told("the link to the right scale is back at", said)
        analysis = practice.finish()
    gaps = analysis["gaps"]
    assert 5.0 < gaps[0]["start_s"] < gaps[-1]["end_s"] < analysis["holds"][-1]["end_s"], "practice goes on"


@pytest.mark.soak
def test_one_board_with_both_sides_needs_no_other(tmp_path: Path) -> None:
    _, made = virtual_scales("steady", RIGHT_75, Goal(3.0, 9), one=True)
    with Air(*made), practising(tmp_path, [BOTH_ADDRESS], *HOLDS, "--seconds", "12") as practice:
        analysis = practice.finish()
    assert analysis["alignment"] is None and analysis["gaps"] == []
    assert analysis["holds"][0]["held_s"] > 0.5 and 50.0 < analysis["share_percent"]["mean"] < 78.0
