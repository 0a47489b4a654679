"""The check of the plates, fed with a scale's items."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from tests.shown import snapshot
from tests.unit.checking import Stand, in_pieces
from weightshare.exercise import Ceiling
from weightshare.metrology.balance import Verdict
from weightshare.model import Side
from weightshare.practice.checkup import Checkup, CheckupView, allowed_range
from weightshare.scales.rig.cell import CELLS, rig_calibration
from weightshare.scales.rig.shift import Shift
from weightshare.state import State
from weightshare.task import Settings

ASKED, ASKED_S = (35.0, 65.0), 8.0


def run(fault: str = "clean", seconds: float = 62.0, name: str = "steady", size: int = 7) -> Checkup:
    """Weigh somebody, ask for the shift at ASKED_S, and go on for so long."""
    checkup, stand = Checkup(rig_calibration()), Stand(name, fault)
    for piece in in_pieces(stand.until(ASKED_S), size):
        checkup.push(piece)
    checkup.begin(ASKED, stand.profile.body_weight_N)
    stand.shift(Shift(*ASKED))
    for piece in in_pieces(stand.until(seconds), size):
        checkup.push(piece)
    return checkup


def test_a_plate_that_reads_high_is_found_before_practice() -> None:
    view = run("mismatch").view
    assert view.balance is not None and view.balance.mismatch is not None and not view.under_way
    assert view.balance.verdict is Verdict.UNEVEN and abs(view.balance.mismatch.value - 2.0) < 0.5


def test_plates_that_read_alike_are_told_within_a_minute() -> None:
    assert run(seconds=45.0).view.balance is not None
    balance = run().view.balance
    assert balance is not None and balance.verdict is Verdict.EVEN


def test_how_the_stream_is_cut_does_not_matter() -> None:
    one, other = (run("mismatch", size=size).view.balance for size in (1, 10))
    assert one == other


def test_the_zero_is_told_against_the_calibrations() -> None:
    zero_N = run(seconds=11.0).view.zero_N
    assert zero_N is not None
    assert zero_N[0] == pytest.approx(CELLS[0].zero_error_N + CELLS[1].zero_error_N, abs=0.4)
    assert zero_N[1] == pytest.approx(CELLS[2].zero_error_N + CELLS[3].zero_error_N, abs=0.4)
    assert run("zero-load", seconds=11.0).view.zero_N is None, "a bag lay there"


def test_the_temperature_is_kept() -> None:
    assert run(seconds=11.0).view.temperature_degC == 21.5


def test_who_does_not_shift_is_told_so_after_a_while() -> None:
    checkup, stand = Checkup(rig_calibration()), Stand("quiet")
    checkup.push(stand.until(ASKED_S))
    checkup.begin(ASKED, stand.profile.body_weight_N)
    for piece in in_pieces(stand.until(57.5), 5):
        checkup.push(piece)
    assert checkup.view.balance is None and checkup.view.under_way
    checkup.push(stand.until(59.5))
    balance = checkup.view.balance
    assert balance is not None and balance.verdict is Verdict.UNTOLD and "shift further" in balance.reason


def test_it_says_where_to_go_and_how_far_one_is() -> None:
    checkup, stand = Checkup(rig_calibration()), Stand()
    checkup.push(stand.until(ASKED_S))
    checkup.begin(ASKED, stand.profile.body_weight_N)
    stand.shift(Shift(*ASKED))
    seen: list[CheckupView] = []
    for piece in in_pieces(stand.until(45.0), 1):
        checkup.push(piece)
        seen.append(checkup.view)
    ways = [view.toward for before, view in pairwise(seen) if view.toward is not before.toward]
    assert seen[0].toward is Side.LEFT and ways[:3] == [Side.RIGHT, Side.LEFT, Side.RIGHT]
    assert max(view.progress for view in seen) > 0.6 and all(0.0 <= view.progress <= 1.0 for view in seen)
    assert all(view.share_percent is not None for view in seen if view.under_way)
    assert seen[-1].share_percent is None, "nothing old stands there when it is over"


def test_rocking_is_seen_until_heels_are_raised() -> None:
    assert any("rocks" in words for words in run("rocking", seconds=30.0).view.remarks)
    checkup, stand = Checkup(rig_calibration()), Stand("steady", "rocking")
    checkup.watches_rocking = False
    for piece in in_pieces(stand.until(30.0), 20):
        checkup.push(piece)
    assert checkup.view.remarks == ()


def test_touching_is_said_once_though_its_figure_changes() -> None:
    checkup, stand = Checkup(rig_calibration()), Stand("leaver", "touching")
    for piece in in_pieces(stand.until(45.0), 20):
        checkup.push(piece)
    assert len(checkup.view.remarks) == 1 and "the plates touch" in checkup.view.remarks[0]


@pytest.mark.parametrize("fault", ["missing", "overload"])
def test_readings_that_are_not_there_do_no_harm(fault: str) -> None:
    balance = run(fault).view.balance
    assert balance is not None and balance.verdict is not Verdict.UNEVEN


def test_another_scales_items_are_passed_over() -> None:
    checkup = Checkup(replace(rig_calibration(), device_id="00112233445566aa"))
    checkup.push(Stand().until(5.0))
    assert checkup.view == CheckupView(temperature_degC=21.5)


LEFT = Settings(Side.LEFT, target_percent=75.0)


def standing(ceiling_N: float | None = None) -> object:
    return snapshot(State.STANDING, 50.0, body_weight_N=700.0, ceiling_N=ceiling_N)


@pytest.mark.parametrize(
    ("percent", "injured", "allowed"),
    [
        (None, Side.LEFT, (35.0, 65.0)),
        (90.0, Side.LEFT, (35.0, 65.0)),
        (60.0, Side.LEFT, (35.0, 54.0)),
        (60.0, Side.RIGHT, (46.0, 65.0)),
        (50.0, Side.LEFT, None),
        (39.0, Side.LEFT, None),
        (20.0, Side.RIGHT, None),
    ],
)
def test_nobody_is_asked_beyond_nine_tenths_of_the_ceiling(
    percent: float | None, injured: Side, allowed: tuple[float, float] | None
) -> None:
    ceiling = None if percent is None else Ceiling(percent=percent)
    limit_N = None if percent is None else 7.0 * percent
    found = allowed_range(Settings(injured, ceiling=ceiling), standing(limit_N))  # type: ignore[arg-type]
    assert found == (None if allowed is None else pytest.approx(allowed))


def test_nobody_is_asked_before_body_weight_or_the_limit_is_known() -> None:
    assert allowed_range(LEFT, snapshot(State.WEIGHING, 50.0, body_weight_N=None)) is None
    assert allowed_range(replace(LEFT, ceiling=Ceiling(kg=60.0)), standing()) is None  # type: ignore[arg-type]
