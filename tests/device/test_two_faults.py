"""Two scales over real sockets and pseudo-terminals, and what goes wrong with one of them: what is said and what to do
about it, that no share is made of one side, that practice goes on, and that nothing recorded is lost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from tests.device.pairing import LEFT_75, Pair, check_again, sitting
from weightshare.errors import CalibrationError, DeviceError, ProtocolError
from weightshare.model import Chunk, Side
from weightshare.practice.engine import Engine, Finished
from weightshare.practice.frame import worst_link
from weightshare.practice.view import LinkState
from weightshare.records.calibration import write_calibration
from weightshare.records.session import load_session
from weightshare.scales.link import Phase
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID, rig_calibration
from weightshare.scales.rig.hidden import hidden_id
from weightshare.state import State

Wait = Callable[..., None]


def is_told(engine: Engine, *parts: str) -> Callable[[], bool]:
    """Whether one message of the session has all these parts."""
    return lambda: any(all(part in message for part in parts) for message in engine.view().messages)


def is_blank(engine: Engine) -> bool:
    view = engine.view()
    return view.stale or view.snapshot.share_percent is None


def shows_share(engine: Engine) -> bool:
    return not is_blank(engine) and engine.view().snapshot.body_weight_N is not None


def words_of(engine: Engine, side: Side) -> str:
    (link,) = [link for link in engine.view().links if link.side is side]
    return link.words


def count_rows(finished: Finished, source: int) -> int:
    assert finished.folder is not None
    came = [each.item for batch in load_session(finished.folder).batches for each in batch if each.source == source]
    return sum(item.readings.shape[0] * item.readings.shape[1] for item in came if isinstance(item, Chunk))


@pytest.mark.parametrize("way", ["pty", "tcp"])
def test_a_cable_pulled_out_and_put_back_is_told_and_leaves_a_gap_in_the_share_alone(
    tmp_path: Path, wait_until: Wait, way: str
) -> None:
    with sitting("steady,faults=one-unplugged", tmp_path, way) as (_, engine):
        wait_until(lambda: shows_share(engine))
        wait_until(is_told(engine, "the link to the right scale was lost at ", "check"))
        wait_until(lambda: is_blank(engine), within_s=2.0)
        assert [link.state for link in engine.view().links] == [LinkState.SAMPLING, LinkState.LOST]
        assert words_of(engine, Side.RIGHT).startswith("the right scale: ")
        wait_until(is_told(engine, "the link to the right scale is back at "))
        wait_until(lambda: shows_share(engine))
        finished = check_again(engine)
    assert finished.analysis is not None
    (gap, *_) = finished.analysis.gaps
    # out from 14 to 16.5 s, and tried again every now and then
    assert gap.start_s == pytest.approx(14.0, abs=0.3)
    assert 2.3 < gap.end_s - gap.start_s < 6.0
    # the side that stayed was recorded all the while
    assert count_rows(finished, 0) - count_rows(finished, 1) > 200


def test_a_scale_that_is_switched_off_is_told_and_the_session_is_kept(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady", tmp_path) as (pair, engine):
        wait_until(lambda: shows_share(engine))
        pair.switch_off(0)
        wait_until(is_told(engine, "the link to the left scale was lost at "))
        wait_until(lambda: "nothing listens there" in words_of(engine, Side.LEFT))
        assert is_blank(engine)
        assert engine.view().snapshot.holding is False
        finished = check_again(engine)
    assert finished.analysis is not None
    assert count_rows(finished, 1) > count_rows(finished, 0)


def test_a_side_that_falls_silent_is_asked_and_comes_back(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=one-silent", tmp_path) as (_, engine):
        wait_until(lambda: shows_share(engine) and (engine.view().snapshot.time_s or 0.0) > 10.0)
        wait_until(lambda: is_blank(engine))
        wait_until(lambda: shows_share(engine) and (engine.view().snapshot.time_s or 0.0) > 15.5)
        finished = check_again(engine)
    assert finished.analysis is not None
    # it was asked after a second without samples, and began again
    longest = max(finished.analysis.gaps, key=lambda gap: gap.end_s - gap.start_s)
    # 15 s after its own START; the session's time is 0 where the other began, which may be later
    assert 11.0 < longest.start_s < 15.3
    assert 0.7 < longest.end_s - longest.start_s < 3.0


def test_a_scale_that_restarts_begins_a_fit_and_time_goes_on(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=one-restarts", tmp_path) as (_, engine):
        wait_until(is_told(engine, "the right scale's clock began anew once"))
        wait_until(lambda: shows_share(engine) and (engine.view().snapshot.time_s or 0.0) > 19.0)
        finished = check_again(engine)
    assert finished.analysis is not None and finished.analysis.alignment is not None
    left, right = finished.analysis.alignment.scales
    assert (left.restarts, right.restarts) == (0, 1)
    assert finished.analysis.duration_s > 19.0


def test_a_low_battery_is_told_with_its_side_and_practice_goes_on(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=battery-low", tmp_path) as (_, engine):
        for side in Side:
            wait_until(is_told(engine, f"the {side} scale says that its battery is low: charge it"))
        wait_until(lambda: shows_share(engine))
        assert all(3000 < link.battery_mV < 3300 for link in engine.view().links)
        check_again(engine)


def test_a_cell_that_does_not_answer_keeps_practice_from_beginning(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=dead-cell", tmp_path) as (_, engine):
        wait_until(is_told(engine, "the left scale says that a cell does not answer", "check its cable"))
        assert engine.view().snapshot.state is State.WAITING
        assert is_blank(engine)
        finished = check_again(engine)
    assert finished.analysis is not None and finished.analysis.share_percent.mean is None


def test_a_cell_that_dies_blanks_the_share_and_is_told(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=cell-dies", tmp_path) as (_, engine):
        wait_until(lambda: shows_share(engine))
        wait_until(lambda: engine.view().snapshot.state is State.NO_READING)
        wait_until(is_told(engine, "the left scale says that a cell does not answer", "check its cable"))
        assert is_blank(engine)
        check_again(engine)


def test_a_saturated_cell_is_an_overload_and_no_share(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=stuck-cell", tmp_path) as (_, engine):
        wait_until(is_told(engine, "the left scale says that it was overloaded", "check it with a known weight"))
        wait_until(lambda: engine.view().snapshot.state is State.OVERLOAD)
        assert is_blank(engine)
        check_again(engine)


def test_swapped_plates_are_taken_for_the_other_foot_from_the_first_sample_on(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=swapped-sides", tmp_path) as (_, engine):
        assert not engine.swap_sides()
        wait_until(lambda: shows_share(engine))
        # what stands on the right says that it is the left one, so three quarters come out as one
        wait_until(lambda: (engine.view().snapshot.share_percent or 50.0) < 30.0)
        assert engine.swap_sides()
        wait_until(lambda: (engine.view().snapshot.share_percent or 50.0) > 70.0)
        reached_s = engine.view().snapshot.time_s or 0.0
        # long enough in the band to be a hold
        wait_until(lambda: (engine.view().snapshot.time_s or 0.0) > reached_s + 3.0)
        finished = check_again(engine)
    assert finished.folder is not None
    assert load_session(finished.folder).head.sides == (Side.LEFT, Side.RIGHT)
    assert finished.analysis is not None and finished.analysis.holds


def test_two_scales_of_one_side_are_refused_until_it_is_said_which_is_which(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=same-side", tmp_path) as (_, engine):
        wait_until(lambda: engine.phase is Phase.REFUSED)
        assert isinstance(engine.fault, ProtocolError)
        assert "both scales say that they are under the left foot; say which is which: " in str(engine.fault)
        assert "Get started in the window, or --sides left,right" in str(engine.fault)
        assert engine.stop() == Finished(None, None)
    with sitting("steady,faults=same-side", tmp_path, sides=(Side.LEFT, Side.RIGHT)) as (_, engine):
        wait_until(lambda: (engine.view().snapshot.share_percent or 50.0) > 70.0)
        check_again(engine)


def test_where_no_scale_tells_its_side_the_first_is_the_left_one(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=untold-sides", tmp_path) as (_, engine):
        wait_until(lambda: (engine.view().snapshot.share_percent or 50.0) > 70.0)
        assert [link.side for link in engine.view().links] == [Side.LEFT, Side.RIGHT]
        check_again(engine)


def test_another_protocol_version_is_refused_with_what_to_do(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=other-protocol", tmp_path) as (pair, engine):
        wait_until(lambda: engine.phase is Phase.REFUSED)
        told = "the scale speaks protocol version 2, this program version 1; bring both to the same version"
        assert isinstance(engine.fault, DeviceError)
        assert str(engine.fault) == f"{pair.sources[0]}: {told}"
        assert engine.stop() == Finished(None, None)


def test_of_two_scales_one_that_answers_nothing_is_named_and_the_other_waits(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=one-mute", tmp_path) as (pair, engine):
        wait_until(lambda: engine.fault is not None)
        assert str(engine.fault).startswith(f"{pair.sources[1]}: silent: nothing answers; check that the scale is on")
        first, second = engine.view().links
        assert first.words == "the first scale: waiting for the other scale"
        assert second.words.startswith("the second scale: silent")
        # it was the one that waits whose words stood on the screen
        assert worst_link(engine.view()) == second
        assert engine.stop() == Finished(None, None)


def test_one_of_two_without_calibration_is_refused_with_the_command_for_it(tmp_path: Path, wait_until: Wait) -> None:
    own = tmp_path / "left.json"
    write_calibration(own, replace(rig_calibration(LEFT_ID), device_id=hidden_id(LEFT_ID, 1)))
    with sitting("steady,cells=hidden,seed=1", tmp_path / "kept", calibrations=(own,)) as (pair, engine):
        wait_until(lambda: engine.phase is Phase.REFUSED)
        assert str(engine.fault).startswith(f"{pair.sources[1]}: scale {hidden_id(RIGHT_ID, 1)} has no calibration")
        assert f"weightshare calibrate run --source {pair.sources[1]}" in str(engine.fault)
        assert engine.view().links[0].state is LinkState.CONNECTING
        assert engine.stop() == Finished(None, None)


def test_two_scales_each_with_the_file_given_for_it_in_any_order(tmp_path: Path, wait_until: Wait) -> None:
    files = [tmp_path / "one.json", tmp_path / "two.json"]
    for file, device_id in zip(files, (RIGHT_ID, LEFT_ID), strict=True):
        own = rig_calibration(device_id)
        # half the force, so that it shows whose file was used
        channels = tuple(replace(one, newton_per_count=0.5 * one.newton_per_count) for one in own.channels)
        write_calibration(file, replace(own, channels=channels))
    with sitting("steady", tmp_path / "kept", calibrations=tuple(files)) as (_, engine):
        wait_until(lambda: shows_share(engine))
        weight_N = engine.view().snapshot.body_weight_N
        check_again(engine)
    with sitting("steady", tmp_path / "kept too") as (_, engine):
        wait_until(lambda: shows_share(engine))
        assert engine.view().snapshot.body_weight_N == pytest.approx(2.0 * (weight_N or 0.0), rel=0.01)


def test_the_wrong_file_for_one_of_two_is_bad_input(tmp_path: Path, wait_until: Wait) -> None:
    files = [tmp_path / "one.json", tmp_path / "other.json"]
    write_calibration(files[0], rig_calibration(LEFT_ID))
    write_calibration(files[1], replace(rig_calibration(RIGHT_ID), device_id="00000000000000ff"))
    with sitting("steady", tmp_path / "kept", calibrations=tuple(files)) as (_, engine):
        wait_until(lambda: engine.phase is Phase.REFUSED)
        assert isinstance(engine.fault, CalibrationError)
        assert RIGHT_ID in str(engine.fault) and "00000000000000ff" in str(engine.fault)
        engine.stop()


def test_the_same_scale_by_two_names_is_no_pair(tmp_path: Path, wait_until: Wait) -> None:
    pair = Pair("steady", "pty")
    try:
        device = Path(pair.sources[0].removeprefix("serial:")).resolve()
        with sitting("steady", tmp_path, sources=(pair.sources[0], f"serial:{device}")) as (_, engine):
            wait_until(lambda: any("in use" in link.words for link in engine.view().links))
            assert engine.fault is not None and "in use" in str(engine.fault)
            assert engine.stop() == Finished(None, None)
    finally:
        pair.close()


def test_two_ports_that_lead_to_one_scale_are_no_pair(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady", tmp_path, twin=True) as (_, engine):
        wait_until(lambda: engine.phase is Phase.REFUSED)
        assert isinstance(engine.fault, ProtocolError)
        assert f"both sources lead to the same scale, {LEFT_ID}" in str(engine.fault)


def test_another_scale_in_the_place_of_one_is_named_and_kept_out(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady", tmp_path) as (pair, engine):
        wait_until(lambda: shows_share(engine))
        pair.replace(1, LEFT_ID)
        words = f"this is scale {LEFT_ID}, and the session is on {RIGHT_ID}; plug that one in"
        wait_until(lambda: words in words_of(engine, Side.RIGHT))
        wait_until(lambda: is_blank(engine))
        pair.replace(1, RIGHT_ID)
        wait_until(lambda: shows_share(engine))
        finished = check_again(engine)
    assert finished.analysis is not None and finished.analysis.alignment is not None
    assert finished.analysis.alignment.scales[1].device_id == RIGHT_ID


def test_another_rate_than_told_is_said_of_each_scale_and_practice_goes_on(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=other-rate", tmp_path) as (_, engine):
        for side in Side:
            wait_until(is_told(engine, f"the {side} scale says that it takes 100 samples a second, and takes 80"))
        wait_until(lambda: shows_share(engine))
        finished = check_again(engine)
    assert finished.analysis is not None
    assert finished.analysis.rate_Hz == pytest.approx(80.0, abs=0.1)


def test_two_rates_stand_on_the_grid_of_the_higher_one(tmp_path: Path, wait_until: Wait) -> None:
    with sitting("steady,faults=two-rates", tmp_path) as (_, engine):
        wait_until(lambda: (engine.view().snapshot.share_percent or 50.0) > 70.0)
        finished = check_again(engine)
    assert finished.analysis is not None
    assert finished.analysis.rate_Hz == pytest.approx(100.0, abs=0.1)
    assert count_rows(finished, 1) / count_rows(finished, 0) == pytest.approx(0.8, abs=0.05)
    assert np.isfinite(finished.analysis.share_percent.mean or np.nan)
    assert LEFT_75.target_percent == 75.0
