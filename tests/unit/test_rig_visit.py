"""One person's visit over STOP, restarts, silence and two scales: when it goes on, and when a new one begins."""

from __future__ import annotations

import struct

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.unit.wire import PING, SECOND, STOP, WHO, ask, bodies, command, make, samples, start
from weightshare.model import NO_READING, Condition
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Cast, Scene


def readings(scale: VirtualScale, until_ns: int) -> NDArray[np.int32]:
    """All raw readings until then, shape (n, channels)."""
    parts = [body[12:] for body in bodies(scale, until_ns) if body[0] == 2]
    return np.frombuffer(b"".join(parts), "<i4").reshape(-1, len(scale.identity.channels))


def test_it_stops_by_itself_when_it_has_heard_nothing_for_30_s() -> None:
    scale = make()
    scale.receive(start(100.0), 0)
    first = samples(scale, 20 * SECOND)
    scale.receive(command(PING, 0, 0, 0, 0), 20 * SECOND)
    later = samples(scale, 49 * SECOND)
    rest = samples(scale, 80 * SECOND)
    assert (first + later + rest)[-1][1] == 50_000_000 - 10_000
    assert scale._scene.over


def test_damage_is_not_hearing() -> None:
    scale = make()
    scale.receive(start(100.0), 0)
    scale.receive(b"\x01\x02\x03\0", 29 * SECOND)
    assert samples(scale, 40 * SECOND)[-1][1] == 30_000_000 - 10_000


def test_readings_do_not_depend_on_when_it_was_started() -> None:
    taken = []
    for begin_ns in (0, 77_123_456_789):
        scale = make()
        scale.receive(start(100.0), begin_ns)
        taken.append(readings(scale, begin_ns + 9 * SECOND))
    assert len(taken[0]) == 900
    assert np.array_equal(taken[0], taken[1])


def test_a_new_visit_begins_after_stop_and_not_after_a_mere_start() -> None:
    scale = make()
    scale.receive(start(100.0), 0)
    scale.receive(start(100.0), 8 * SECOND)
    scale.advance(9 * SECOND)
    assert scale._scene.last_s == pytest.approx(8.99, abs=0.03)
    scale.receive(command(STOP, 1), 9 * SECOND)
    scale.receive(start(100.0), 20 * SECOND)
    again = readings(scale, 21 * SECOND)
    assert np.abs(again[:, :4]).max() < 20_000, "nobody is on the plates yet"
    assert np.all(again[:, 4:] == NO_READING), "so there is no heel to be seen"
    assert scale._scene.last_s == pytest.approx(0.98, abs=0.03)


def test_a_restarted_scale_boots_counts_from_0_and_waits_for_start() -> None:
    scale = make("restart")
    scale.receive(start(100.0), 0)
    before = samples(scale, 19 * SECOND - 1)
    assert before[-1][1] == 17_970_000 + 10_000 + 10_000  # restarts 18 s after the first sample
    assert ask(scale, 18_500_000_000, command(WHO, 1)) == [], "it is booting"
    (identity,) = ask(scale, 19_500_000_000, command(WHO, 1))
    assert struct.unpack_from("<H", identity, 13) == (2,)
    assert bodies(scale, 20 * SECOND) == []
    scale.receive(start(100.0), 20 * SECOND)
    assert samples(scale, 21 * SECOND)[0][:2] == (0, 2_000_000)
    assert scale._scene.last_s == pytest.approx(20.98, abs=0.03), "the person did not restart"


def test_samples_stop_while_commands_are_answered() -> None:
    scale = make("silent")
    scale.receive(start(100.0), 0)
    assert samples(scale, 15 * SECOND)[-1][1] < 15_010_000
    scale.receive(command(PING, 0, 0, 0, 0), 17 * SECOND)
    after = bodies(scale, 18 * SECOND)
    assert {body[0] for body in after} == {3, 5}
    assert struct.unpack("<BIHhIH", after[-1])[-1] == Condition.CELL_SILENT
    scale.receive(start(100.0), 20 * SECOND)
    assert len(samples(scale, 21 * SECOND)) == 50


def test_an_overload_is_told_in_condition() -> None:
    scale = make("overload")
    scale.receive(start(100.0), 0)
    faults = [struct.unpack("<BIHhIH", body)[-1] for body in bodies(scale, 20 * SECOND) if body[0] == 3]
    assert faults == [0] * 15 + [0, Condition.OVERLOAD, Condition.OVERLOAD, 0]


def test_two_scales_tick_apart_and_look_at_one_person() -> None:
    scene = Scene(Cast(PEOPLE["steady"], FAULTS["clean"], Task()))
    left = VirtualScale(scene, LEFT_ID, drift_ppm=200.0)
    right = VirtualScale(scene, RIGHT_ID, start_tick=4_000_000_000, drift_ppm=-100.0)
    left.receive(start(100.0), 0)
    right.receive(start(100.0), 3_000_000)
    assert left.tick_at(10 * SECOND) == 10_002_000
    assert right.tick_at(10 * SECOND) == 4_000_000_000 + 9_999_000
    sides = [readings(scale, 9 * SECOND) for scale in (left, right)]
    left_N, right_N = (side.sum(axis=1)[600:880] * 0.00125 for side in sides)
    assert (left_N + right_N).std() < 0.01 * (left_N + right_N).mean()
    assert left_N.std() > 3.0, "the two sides sway against each other, so their sum is still"
    right.receive(command(STOP, 1), 9 * SECOND)
    assert not scene.over
    left.receive(command(STOP, 1), 9 * SECOND)
    assert scene.over
