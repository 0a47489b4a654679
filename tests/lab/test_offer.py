"""What a session offers to the network: the same numbers at the other end, stamped when they were measured."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from weightshare.model import Floats
from weightshare.scales.lab.outlet import Outlet, SampleClock
from weightshare.state import Results


def results(time_s: Floats, seed: int = 4) -> Results:
    draw = np.random.default_rng(seed)
    left, right, share = draw.normal(350.0, 5.0, (3, time_s.size))
    share[1] = np.nan
    return Results(time_s, left, right, share, share, share > 0.0, share)


def pull(name: str, outlet: Outlet, batches: list[Results]) -> tuple[Floats, Floats, Any]:
    """Return the values and stamps that an inlet of the library gets, and what the stream says of itself."""
    import pylsl

    outlet.offer(batches[0], 100.0, "0011223344556677")
    (info,) = pylsl.resolve_byprop("name", name, 1, 5.0)
    inlet = pylsl.StreamInlet(info)
    inlet.open_stream(timeout=5.0)
    for batch in batches[1:]:
        outlet.offer(batch, 100.0, "0011223344556677")
    wanted = sum(batch.time_s.size for batch in batches[1:])
    values, stamps = inlet.pull_chunk(timeout=5.0, max_samples=wanted, as_numpy=True)
    return values, stamps, inlet.info(timeout=5.0)


def test_another_program_gets_the_same_numbers(name: str) -> None:
    time_s = np.arange(300) / 100.0
    batches = [results(part, seed) for seed, part in enumerate(np.split(time_s, 15))]
    outlet = Outlet(name)
    values, stamps, info = pull(name, outlet, batches)
    sent = np.concatenate([[one.left_N, one.right_N, one.share_percent] for one in batches[1:]], axis=1).T
    np.testing.assert_array_equal(values, sent)
    assert (np.diff(stamps) > 0.0).all()
    assert info.nominal_srate() == 100.0
    assert info.get_channel_labels() == ["left_N", "right_N", "share_percent"]
    assert info.get_channel_units() == ["N", "N", "percent"]
    outlet.close()


def test_a_session_can_be_offered_to_another_session(name: str) -> None:
    import pylsl

    from weightshare.scales.lab.channel import choose_feet
    from weightshare.scales.lab.stream import describe, find_stream
    from weightshare.scales.lab.wish import Wish

    outlet = Outlet(name)
    outlet.offer(results(np.arange(4) / 100.0), 100.0, "0011223344556677")
    inlet = pylsl.StreamInlet(find_stream(name))
    left, right = choose_feet(describe(inlet.info(timeout=5.0)).channels, Wish(name))
    assert (left.label, right.label) == ("left_N", "right_N")


@pytest.mark.parametrize("drift_ppm", [-100.0, 0.0, 100.0])
def test_stamps_follow_the_scales_clock_and_not_the_links_jitter(drift_ppm: float) -> None:
    clock, draw = SampleClock(), np.random.default_rng(8)
    off, stamps = [], []
    for frame in range(5000):
        time_s = (2.0 * frame + np.arange(2.0)) / 100.0
        true_s = 700.0 + time_s * (1.0 + drift_ppm * 1e-6)
        # a way of 5 ms at least, and up to 60 ms now and then
        got = clock.place(time_s, float(true_s[-1]) + 0.005 + (0.055 * draw.random() if draw.random() < 0.3 else 0.0))
        off.append(float((got - true_s).max()))
        stamps += got.tolist()
    assert min(np.diff(stamps)) > 0.0
    # after 10 s the shortest way is known
    late = np.array(off[500:])
    assert np.abs(late - 0.005).max() < 0.001
