"""Two scales with clocks of their own on one grid: how far left is off right, what is told of it, what is blank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
import pytest

from tests.unit.links import CHANNELS, MODELS, LinkModel, play_two
from weightshare.errors import CalibrationError, ProtocolError
from weightshare.model import (
    Bools,
    Calibration,
    ChannelCalibration,
    Chunk,
    Floats,
    Identity,
    LinkDown,
    RoundTrip,
    Side,
    Sourced,
)
from weightshare.pipeline import Pipeline
from weightshare.pipeline.agreement import Agreement, alignment_words
from weightshare.pipeline.measure import NO_RESULTS
from weightshare.pipeline.pairing import Pairing
from weightshare.state import Alignment, ScaleClock
from weightshare.task import Settings

SIDES = (Side.LEFT, Side.RIGHT)
BEGIN_S = 1000.0
SEEDS = (1,)


@dataclass(frozen=True, eq=False)
class Rows:
    """Rows of a grid: times (n,), the true instants that each side's readings tell (2, n), and the doubts (2, n)."""

    pairing: Pairing
    time_s: Floats
    true_s: Floats
    doubt_s: Floats

    def apart_ms(self, within: Bools) -> float:
        apart = 1e3 * (self.true_s[0] - self.true_s[1])[within]
        return float(np.percentile(np.abs(apart[np.isfinite(apart)]), 95.0))


def settle(items: Sequence[Sourced]) -> Rows:
    pairing = Pairing()
    for source, item in items:
        pairing.push(source, item)
    found = pairing.settle() + pairing.finish()
    readings = np.concatenate([timed.readings for timed, _ in found], axis=1)
    return Rows(
        pairing,
        np.concatenate([timed.time_s for timed, _ in found]),
        1e-5 * readings[[0, len(CHANNELS)]],
        np.concatenate([doubts for _, doubts in found], axis=1),
    )


def opposite(model: LinkModel) -> LinkModel:
    """The same kind of link, with a crystal that is off the other way, and none of the accidents."""
    return replace(model, drift_ppm=-model.drift_ppm, restart_s=None, away_s=None, rate_Hz=100.0)


def hold(name: str, seed: int, seconds: float = 100.0) -> Rows:
    """10 ms after 10 s and 5 ms after 60 s are what was asked for, where both ways are alike."""
    rows = settle(play_two(MODELS[name], opposite(MODELS[name]), seed, seconds))
    assert rows.apart_ms(rows.time_s > 10.0) < 10.0
    assert rows.apart_ms(rows.time_s > 60.0) < 5.0
    assert (np.diff(rows.time_s) > 0.0).all()
    return rows


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", MODELS)
def test_left_is_with_right_where_both_ways_are_alike(name: str, seed: int) -> None:
    rows = hold(name, seed)
    # 1 % of the frames' neighbours may be lost besides: the models say what is
    allowed = {"loss": 0.4, "radio, bursts": 0.05}.get(name, 0.11 if "lost" in name or name == "restart" else 0.001)
    assert np.isnan(rows.true_s).any(axis=0).mean() < allowed


@pytest.mark.soak
@pytest.mark.parametrize("name", MODELS)
def test_left_is_with_right_whatever_the_seed(name: str) -> None:
    for seed in range(100, 130):
        hold(name, seed, 150.0)


@pytest.mark.parametrize("name", ["cable", "bursts", "radio", "radio, bursts"])
def test_a_time_is_right_to_within_its_doubt(name: str) -> None:
    rows = settle(play_two(MODELS[name], opposite(MODELS[name]), 3, 60.0))
    # the first channel tells true host time since the links began
    host_s = rows.pairing._origin_s - BEGIN_S + rows.time_s
    off_s = np.abs(rows.true_s - host_s)
    told = np.isfinite(off_s)
    # the drift's part is a standard uncertainty, no limit; readings are cut to 10 us
    assert (off_s[told] <= rows.doubt_s[told] + 2e-5).mean() > 0.97


def test_unequal_ways_cannot_be_seen_and_the_doubt_covers_them() -> None:
    slow = replace(MODELS["cable"], slow_s=0.020)
    rows = settle(play_two(slow, MODELS["cable"], 1, 80.0))
    late = rows.time_s > 20.0
    assert rows.apart_ms(late) == pytest.approx(10.0, abs=0.6)  # half of what one way takes longer
    assert (rows.doubt_s[0, late] > 0.0095).all()


def test_what_unequal_ways_do_to_the_share_in_a_fast_shift() -> None:
    """The number in docs/two-clocks.md: a shift from 25 to 75 % within 0.3 s, one way 20 ms longer."""
    slow = replace(MODELS["cable"], slow_s=0.020)
    rows = settle(play_two(slow, MODELS["cable"], 1, 40.0))
    left, right = (_shifted(true_s, 30.0) for true_s in rows.true_s)
    # in the middle the share moves by 262 points a second; of the 10 ms half is in the share, of the left instant
    off = np.abs(100.0 * left / (left + 1.0 - right) - 100.0 * left)
    assert np.nanmax(off) == pytest.approx(1.45, abs=0.1)


def _shifted(time_s: Floats, at_s: float) -> Floats:
    part = np.clip((time_s - at_s) / 0.3, 0.0, 1.0)
    shifted: Floats = 0.25 + 0.25 * (1.0 - np.cos(np.pi * part))
    return shifted


def test_the_first_second_waits_and_nothing_of_it_is_lost() -> None:
    rows = settle(play_two(MODELS["cable"], opposite(MODELS["cable"]), 1, 5.0))
    assert rows.time_s[0] == 0.0
    assert np.isfinite(rows.true_s).all()
    assert np.diff(rows.time_s) == pytest.approx(0.01)


def test_the_grid_is_that_of_the_higher_rate() -> None:
    rows = settle(play_two(MODELS["80 Hz"], MODELS["cable"], 1, 5.0))
    assert rows.pairing.interval_s == pytest.approx(0.01)
    assert np.isfinite(rows.true_s).all()


def test_a_side_is_waited_for_300_ms_and_then_blank() -> None:
    items = play_two(MODELS["cable"], opposite(MODELS["cable"]), 1, 12.0)
    # the second scale falls silent after 6 s
    silent_ns = round((BEGIN_S + 6.0) * 1e9)
    left = [one for one in items if one.source == 0 or _stamp(one) < silent_ns]
    pairing, newest = Pairing(), 0.0
    for source, item in left:
        pairing.push(source, item)
        for timed, _ in pairing.settle():
            newest = float(timed.time_s[-1])
            blank = np.isnan(timed.readings[2])
            if newest > 6.0:
                assert blank.all()
                assert not np.isnan(timed.readings[0]).any()
                waited_s = _stamp(Sourced(source, item)) / 1e9 - pairing._origin_s - newest
                assert 0.2 < waited_s < 0.45
    assert newest > 11.0


def _stamp(sourced: Sourced) -> int:
    item = sourced.item
    if isinstance(item, Chunk):
        return int(item.arrival_ns[-1])
    if isinstance(item, RoundTrip):
        return item.received_ns
    return 0 if isinstance(item, Identity) or not hasattr(item, "arrival_ns") else int(item.arrival_ns)


def test_a_restart_is_a_hole_in_its_own_side_only_and_time_goes_on() -> None:
    rows = settle(play_two(MODELS["restart"], opposite(MODELS["restart"]), 1, 60.0))
    hole = np.isnan(rows.true_s[0])
    # off for 1.5 s, and then until three PINGs were answered
    assert 1.4 < 0.01 * np.count_nonzero(hole) < 3.8
    assert not np.isnan(rows.true_s[1]).any()
    assert rows.time_s[-1] > 59.0
    assert [aligner.restarts for aligner in rows.pairing.aligners] == [1, 0]
    assert "once" in rows.pairing.aligners[0].warnings[0]


def test_after_a_lost_link_the_same_fit_goes_on() -> None:
    rows = settle(play_two(MODELS["link lost"], opposite(MODELS["link lost"]), 1, 60.0))
    assert [aligner.restarts for aligner in rows.pairing.aligners] == [0, 0]
    assert rows.apart_ms(rows.time_s > 43.5) < 5.0


def test_a_host_clock_that_is_set_anew_begins_a_fit() -> None:
    items = play_two(MODELS["cable"], opposite(MODELS["cable"]), 1, 20.0)
    shifted = [
        Sourced(one.source, _later(one, 500_000_000)) if one.source and _stamp(one) > (BEGIN_S + 10.0) * 1e9 else one
        for one in items
    ]
    rows = settle(sorted(shifted, key=_stamp))
    assert (np.diff(rows.time_s) > 0.0).all()
    assert rows.pairing.aligners[0].restarts == 0
    assert rows.pairing.aligners[1].restarts == 1


def _later(sourced: Sourced, by_ns: int) -> Chunk | RoundTrip | LinkDown | Identity:
    item = sourced.item
    if isinstance(item, Chunk):
        return replace(item, arrival_ns=item.arrival_ns + by_ns)
    assert isinstance(item, RoundTrip)
    return replace(item, sent_ns=item.sent_ns + by_ns, received_ns=item.received_ns + by_ns)


# --- through the whole pipeline --------------------------------------------------------------------------------------


def calibrations() -> list[Calibration]:
    channels = tuple(ChannelCalibration(index, 0.0, 1e-3) for index in range(len(CHANNELS)))
    return [Calibration(f"{device:016x}", date(2026, 11, 2), channels) for device in (1, 2)]


def piped(items: Sequence[Sourced], sides: tuple[Side, Side] = SIDES) -> Pipeline:
    pipeline = Pipeline(Settings(Side.LEFT), calibrations(), keep_trace=True, sides=sides)
    pipeline.push_all(items)
    pipeline.finish()
    return pipeline


def test_two_scales_are_one_with_both_their_channels() -> None:
    pipeline = piped(play_two(MODELS["cable"], MODELS["80 Hz"], 1, 15.0), (Side.RIGHT, Side.LEFT))
    assert pipeline.identity is not None
    assert pipeline.identity.device_id == "0000000000000001+0000000000000002"
    assert [channel.side for channel in pipeline.identity.channels] == [Side.RIGHT] * 2 + [Side.LEFT] * 2
    assert pipeline.calibration is not None
    assert [channel.index for channel in pipeline.calibration.channels] == [0, 1, 2, 3]
    assert pipeline.trace().time_s[0] == 0.0


def test_what_is_known_of_the_clocks_stands_in_the_analysis() -> None:
    alignment = piped(play_two(MODELS["cable"], MODELS["bursts"], 1, 60.0)).analysis().to_json()["alignment"]
    first, second = alignment["scales"]
    assert (first["side"], second["side"]) == ("left", "right")
    assert first["drift_ppm"] == pytest.approx(40.0, abs=8.0)
    assert second["drift_ppm"] == pytest.approx(-60.0, abs=12.0)
    assert first["round_trips"] > 60
    assert 1.0 < alignment["doubt_ms"] < 5.0
    assert Pipeline(Settings(Side.LEFT), calibrations()).analysis().to_json()["alignment"] is None


def test_a_scale_that_answers_no_ping_is_told_and_its_doubt_is_not_known() -> None:
    deaf = replace(MODELS["cable"], answers=False)
    pipeline = piped(play_two(deaf, MODELS["cable"], 1, 20.0))
    assert pipeline.alignment is not None
    assert pipeline.alignment.doubt_ms is None
    assert any("the left scale answered no PING" in words for words in pipeline.analysis().warnings)
    assert pipeline.trace().time_s[-1] > 18.0


def test_the_newest_share_is_doubtful_as_far_as_it_moves() -> None:
    agreement = Agreement()
    assert agreement.points_now is None
    agreement.push_doubts(np.full((2, 4), 0.003))
    moved = replace(
        NO_RESULTS, time_s=np.array([0.0, 0.01, 0.02, 0.03]), share_percent=np.array([50.0, 50.0, 50.5, 51.5])
    )
    agreement.push_share(0.01, moved)
    # 100 points a second, and both times within 3 ms: sqrt(2) 3 / sqrt(3) ms
    assert agreement.points_now == pytest.approx(100.0 * 0.003 * np.sqrt(2.0 / 3.0))
    agreement.push_share(0.01, replace(moved, time_s=np.array([0.04, 0.05]), share_percent=np.array([51.5, 51.5])))
    assert agreement.points_now == 0.0
    agreement.push_doubts(np.array([[0.003], [np.nan]]))
    assert agreement.points_now is None


def test_a_snapshot_says_what_two_clocks_do_to_its_share() -> None:
    assert Pipeline(Settings(Side.LEFT), calibrations()).snapshot().clock_points == 0.0
    deaf = replace(MODELS["cable"], answers=False)
    assert piped(play_two(deaf, MODELS["cable"], 1, 8.0)).snapshot().clock_points is None
    known = piped(play_two(MODELS["cable"], MODELS["cable"], 1, 8.0)).snapshot().clock_points
    assert known is not None and 0.0 <= known < 0.5


def test_the_words_come_where_a_doubt_spoils_the_share_and_only_there() -> None:
    clock = ScaleClock("0000000000000001", Side.LEFT, 10.0, 1.0, 1.0, 60, 0)
    well = Alignment(2.0, 50.0, 0.1, (clock, replace(clock, side=Side.RIGHT)))
    assert alignment_words(well) == ()
    (late,) = alignment_words(replace(well, doubt_ms=12.0, share_doubt_points=0.6))
    assert "12 ms" in late
    (fast,) = alignment_words(replace(well, doubt_ms=8.0, share_doubt_points=1.6))
    assert "1.6 points" in fast


def test_the_same_scale_or_side_twice_is_refused_in_words() -> None:
    items = play_two(MODELS["cable"], MODELS["cable"], 1, 1.0)
    with pytest.raises(ProtocolError, match="both scales are said to be under the left foot"):
        piped(items, (Side.LEFT, Side.LEFT))
    first = next(one.item for one in items if isinstance(one.item, Identity))
    with pytest.raises(ProtocolError, match="lead to the same scale"):
        piped([Sourced(0, first), Sourced(1, first)])


def test_a_scale_without_force_or_without_calibration_is_refused_in_words() -> None:
    first, second = (
        one.item for one in play_two(MODELS["cable"], MODELS["cable"], 1, 1.0) if isinstance(one.item, Identity)
    )
    assert isinstance(first, Identity)
    assert isinstance(second, Identity)
    with pytest.raises(ProtocolError, match="has no force channel"):
        piped([Sourced(0, first), Sourced(1, replace(second, channels=()))])
    with pytest.raises(CalibrationError, match="00000000000000ff"):
        piped([Sourced(0, first), Sourced(1, replace(second, device_id="00000000000000ff"))])
    with pytest.raises(ProtocolError, match="begin a new session"):
        piped([Sourced(0, first), Sourced(1, second), Sourced(1, replace(second, channels=CHANNELS[:1]))])
