"""The bench of the rig: hands lay on what was asked for, as it really is, and err where they are told to."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.errors import OptionError
from weightshare.metrology.reading import Kind, Mass, Placement, Spot
from weightshare.model import Floats, Side
from weightshare.scales.rig.bench import SCATTER_N, BenchScene, true_masses
from weightshare.scales.rig.wish import make_cast, parse_spec
from weightshare.task import Goal, Settings

GRAVITY = 9.81
MASSES = (Mass("10 kg", 10.0, 0.0003), Mass("20 kg", 20.0, 0.0006))
STEP_S = 0.02


class Bench:
    """A scene that is looked at second by second."""

    def __init__(self, spec: str = "bench") -> None:
        cast, _wishes = make_cast(spec, Settings(Side.LEFT), Goal(), 0.0)
        self.scene = BenchScene(cast)
        self.scene.begin("5053000000000001", 0, STEP_S)
        self.time_s = 0.0

    def place(self, number: int, *masses: int, side: Side = Side.LEFT, spot: Spot = Spot.MIDDLE) -> None:
        self.scene.place(Placement(number, side, Kind.SERIES, masses, spot), MASSES, GRAVITY)

    def look(self, seconds: float) -> tuple[Floats, Floats]:
        """Return forces, shape (n, 4), and where the loads lie, (n, 2), of the next seconds."""
        forces, places = [], []
        for _frame in range(round(seconds / STEP_S)):
            time_s = np.array([self.time_s])
            forces.append(self.scene.look(time_s)[0])
            x_part = self.scene.x_part(time_s)
            assert x_part is not None
            places.append(x_part)
            self.scene.note_sample(self.time_s)
            self.time_s += STEP_S
        return np.concatenate(forces), np.concatenate(places)


def test_hands_take_a_second_or_two_and_then_the_load_is_still() -> None:
    bench = Bench()
    bench.look(1.0)
    bench.place(1, 0)
    forces, _places = bench.look(5.0)
    total = forces[:, :2].sum(axis=1)
    assert np.ptp(total[:25]) < 1e-9
    assert total[-1] == pytest.approx(10.0 * GRAVITY, abs=4 * SCATTER_N)
    assert np.ptp(total[-75:]) < 0.02
    assert np.ptp(forces[:, 2:], axis=0).max() < 1e-9


def test_nobody_touches_an_empty_plate_that_is_to_stay_empty() -> None:
    """What each placement adds came a second into the watch for drift, and bent it."""
    bench = Bench()
    bench.place(0)
    assert np.ptp(bench.look(5.0)[0], axis=0).max() < 1e-9


def test_a_mass_that_is_moved_is_in_the_air_and_lands_where_it_is_to_lie() -> None:
    bench = Bench()
    bench.place(1, 1)
    bench.look(4.0)
    bench.place(2, 1, spot=Spot.REAR_RIGHT)
    forces, places = bench.look(5.0)
    total = forces[:, :2].sum(axis=1)
    assert total.min() < 1.0
    assert forces[-1, 0] / total[-1] == pytest.approx(0.25, abs=0.04)
    assert places[-1, 0] == pytest.approx(0.5, abs=0.08)


def test_a_mass_that_stays_is_not_lifted() -> None:
    bench = Bench()
    bench.place(1, 0)
    bench.look(4.0)
    bench.place(2, 0, 1)
    total = bench.look(5.0)[0][:, :2].sum(axis=1)
    assert total.min() > 90.0
    assert total[-1] == pytest.approx(30.0 * GRAVITY, abs=4 * SCATTER_N)


def test_each_placement_has_its_own_scatter_and_the_seed_settles_it() -> None:
    ends = []
    for _again in range(2):
        bench = Bench("bench,seed=5")
        course = []
        for number in range(1, 30):
            bench.place(number, 0)
            course.append(bench.look(4.0)[0][-1, :2].sum())
        ends.append(course)
    assert ends[0] == ends[1]
    assert 0.4 * SCATTER_N < np.std(ends[0]) < 1.7 * SCATTER_N


def test_masses_are_not_what_they_are_told_to_be() -> None:
    many = tuple(Mass("10 kg", 10.0, 0.001) for _each in range(400))
    off_kg = np.array(true_masses(many, 3)) - 10.0
    assert np.std(off_kg) == pytest.approx(0.001, rel=0.15)
    assert true_masses(many, 3) != true_masses(many, 4)


def test_hands_that_err_lay_the_first_mass_on_the_other_plate() -> None:
    bench = Bench("bench,faults=wrong-plate")
    bench.place(1, 0)
    forces, _places = bench.look(4.0)
    assert forces[-1, 2:].sum() == pytest.approx(98.1, abs=1.0)
    assert forces[-1, :2].sum() == pytest.approx(0.0, abs=1.0)
    forces, _places = bench.look(10.0)
    assert forces[-1, :2].sum() == pytest.approx(98.1, abs=1.0)
    assert forces[-1, 2:].sum() == pytest.approx(0.0, abs=1.0)


def test_somebody_stands_there_for_a_while() -> None:
    bench = Bench("bench,faults=person-on")
    bench.place(1, 0)
    assert bench.look(6.0)[0][-1, :2].sum() == pytest.approx(736.0, rel=0.01)
    assert bench.look(20.0)[0][-1, :2].sum() == pytest.approx(98.1, abs=1.0)


def test_a_loose_foot_takes_load_in_one_quarter_alone() -> None:
    bench = Bench("bench,faults=loose-foot")
    for number, spot in enumerate((Spot.REAR_LEFT, Spot.REAR_RIGHT)):
        bench.place(number, 1, spot=spot)
        total_N = bench.look(5.0)[0][-1, :2].sum()
        assert total_N == pytest.approx((196.2, 184.4)[number], abs=1.0)


def test_masses_stay_where_they_lie_when_the_scale_starts_anew() -> None:
    bench = Bench()
    bench.place(1, 0)
    bench.look(4.0)
    bench.scene.end("5053000000000001")
    bench.scene.begin("5053000000000001", 10**10, STEP_S)
    bench.time_s = 0.0
    forces, _places = bench.look(3.0)
    assert forces[:, :2].sum(axis=1) == pytest.approx(98.1, abs=1.0)
    assert np.ptp(forces[:, 2:], axis=0).max() < 1e-9


@pytest.mark.parametrize("spec", ["steady,speed=20", "bench,cells=strange", "bench,speed=1000", "bench,truth=a.json"])
def test_wishes_that_cannot_be_are_refused(spec: str) -> None:
    with pytest.raises(OptionError, match="--source rig"):
        parse_spec(spec)


def test_hidden_cells_are_wished_for() -> None:
    cast, wishes = make_cast("bench,cells=hidden,speed=20", Settings(Side.LEFT), Goal(), 0.0)
    assert (cast.hidden, wishes["speed"]) == (True, "20")
