"""From the bench's readings to a calibration: what was put in comes out, and what cannot be told is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.unit.benches import FOUR, GRAVITY, MASSES, Plate, make_record
from weightshare.errors import CalibrationError
from weightshare.metrology import found
from weightshare.metrology.evaluate import evaluate
from weightshare.metrology.found import Figure, Found
from weightshare.metrology.reading import QUARTERS, Kind, Mass, Spot
from weightshare.model import Side
from weightshare.workbench.plan import Wanted

TOP_N = 60.0 * GRAVITY
AIR = 1.2 / 8000.0 / math.sqrt(3.0)
"""The conventional densities of air and masses (OIML D 28:2004), as a standard uncertainty."""


def one(result: Found, name: str, channel: int | None = None, spot: Spot | None = None) -> Figure:
    """Return the one figure of that name."""
    (figure,) = [f for f in result.figures if (f.name, f.channel, f.spot) == (name, channel, spot)]
    return figure


def test_what_was_put_in_comes_out() -> None:
    plate = Plate(
        (0.00127, 0.00121), 3e-6, 0.8, (0.012, -0.004), creep=8e-4, creep_s=37.0, drift_N_per_s=4e-4, zero_counts=-321.0
    )
    result = evaluate(make_record(plate))
    for channel, slope in enumerate(plate.slopes):
        assert one(result, found.SLOPE, channel).estimate.value == pytest.approx(slope, rel=1e-5)
        assert result.channels[channel].newton_per_count2 == pytest.approx(plate.curve * slope**2, rel=2e-2)
    assert one(result, found.NON_LINEARITY).estimate.value == pytest.approx(plate.curve * TOP_N**2 / 4, abs=0.005)
    assert one(result, found.HYSTERESIS).estimate.value == pytest.approx(0.8, abs=0.005)
    assert one(result, found.DRIFT).estimate.value == pytest.approx(60 * 4e-4, rel=1e-3)
    left_on = 8e-4 * TOP_N * (np.exp(-10.0 / 37.0) - np.exp(-299.5 / 37.0))
    assert one(result, found.CREEP).estimate.value == pytest.approx(left_on, rel=1e-3)
    assert one(result, found.REPEATABILITY).estimate.value < 0.005
    load_N = 20.0 * GRAVITY
    for spot in QUARTERS:
        front = 0.5 + 0.25 * spot.y_sign
        error_N = spot.x_sign * load_N * (0.012 * front - 0.004 * (1 - front))
        assert one(result, found.CORNER, spot=spot).estimate.value == pytest.approx(error_N, rel=0.015, abs=0.01)


def test_figures_come_in_the_order_of_a_certificate() -> None:
    names = [figure.name for figure in evaluate(make_record(Plate(creep=5e-4, scatter_N=_scatter(1)))).figures]
    assert list(dict.fromkeys(names)) == list(found.FIGURES)


def test_errors_of_the_masses_are_carried_through_the_fit() -> None:
    """One mass that is heavier than it says moves the slope as much as its share of the uncertainty tells."""
    heavy = 1e-3
    masses = tuple(Mass(m.name, m.kg, heavy if i == 2 else 0.0) for i, m in enumerate(MASSES))
    record = make_record(Plate(), masses=masses)
    off = replace(record, masses=tuple(replace(m, kg=m.kg + m.u_kg) for m in masses))
    before, after = (one(evaluate(r), found.SLOPE, 0).estimate for r in (record, off))
    assert math.hypot(after.value - before.value, AIR * before.value) == pytest.approx(before.u, rel=0.01)


def test_gravity_is_common_to_both_sides() -> None:
    record = replace(make_record(Plate()), u_gravity_m_s2=1e-3, masses=tuple(replace(m, u_kg=0.0) for m in MASSES))
    result = evaluate(record)
    assert result.worth.common_part == pytest.approx(math.hypot(1e-3 / GRAVITY, AIR), rel=1e-3)
    assert result.worth.sides[0].gain_part < 1e-5


def test_four_cells_of_their_own_have_no_corner_left() -> None:
    plate = Plate((0.00127, 0.00121, 0.00124, 0.00130), places_mm=FOUR, unequal=())
    result = evaluate(make_record(plate))
    for channel, slope in enumerate(plate.slopes):
        assert one(result, found.SLOPE, channel).estimate.value == pytest.approx(slope, rel=1e-6)
    assert all(abs(one(result, found.CORNER, spot=spot).estimate.value) < 1e-3 for spot in QUARTERS)


def test_one_channel_for_the_plate() -> None:
    result = evaluate(make_record(Plate((0.0025,), places_mm=((0.0, 0.0),), unequal=(0.0,))))
    assert one(result, found.SLOPE, 0).estimate.value == pytest.approx(0.0025, rel=1e-6)


def test_without_quarters_the_channels_are_taken_alike() -> None:
    wanted = Wanted(MASSES, sides=(Side.LEFT,), corner_rounds=0)
    result = evaluate(make_record(Plate((0.00126, 0.00124)), wanted))
    first, second = (one(result, found.SLOPE, channel).estimate.value for channel in (0, 1))
    assert first == second
    assert first == pytest.approx(0.00125, rel=1e-4)


def test_two_masses_make_a_straight_line_and_say_so() -> None:
    masses = MASSES[1:3]
    result = evaluate(make_record(Plate(), Wanted(masses, sides=(Side.LEFT,)), masses))
    assert result.fits[0].degree == 1
    assert "for want of loads" in str(result.fits[0].advice)
    assert not any(figure.name == found.CURVE for figure in result.figures)


def test_the_fit_says_whether_the_curve_is_worth_it() -> None:
    straight, curved = (evaluate(make_record(Plate(curve=c, scatter_N=_scatter(2)))) for c in (0.0, 3e-5))
    assert "straight line would do" in str(straight.fits[0].advice)
    assert curved.fits[0].advice is None


def test_a_loose_foot_is_told() -> None:
    result = evaluate(make_record(Plate(unequal=(0.03, 0.0), scatter_N=_scatter(3))))
    assert any("front right" in words and "loose foot" in words for words in result.cautions)
    assert not any("rear" in words for words in result.cautions if "loose" in words and "+0.0" in words)


def test_a_step_that_does_not_fit_is_told_by_its_number() -> None:
    scatter = _scatter(4)
    scatter[5] += 3.0
    result = evaluate(make_record(Plate(scatter_N=scatter)))
    assert any(words.startswith("step 6, ") for words in result.cautions)


def test_beyond_the_greatest_mass_the_curve_is_taken_on_trust() -> None:
    assert any("589 N (60 kg)" in words for words in evaluate(make_record(Plate())).cautions)


def test_a_channel_that_reads_less_under_load_is_refused() -> None:
    with pytest.raises(CalibrationError, match=r"channel 1, under the left plate, reads less the more lies on it"):
        evaluate(make_record(Plate((0.00125, -0.00125), scatter_N=_scatter(5))))


def test_a_channel_that_does_not_change_is_refused() -> None:
    record = make_record(Plate())
    dead = tuple(replace(w, counts=(w.counts[0], 0.0)) for w in record.windows)
    with pytest.raises(CalibrationError, match="do not tell its channels apart"):
        evaluate(replace(record, windows=dead))


def test_one_load_is_too_few() -> None:
    masses = MASSES[:1]
    with pytest.raises(CalibrationError, match="2 different loads; nothing on and two masses are the least"):
        evaluate(make_record(Plate(), Wanted(masses, sides=(Side.LEFT,)), masses))


def test_a_plate_that_was_never_empty_is_refused() -> None:
    record = make_record(Plate())
    loaded = {p.number for p in record.placements if p.masses}
    windows = tuple(w for w in record.windows if w.placement in loaded)
    with pytest.raises(CalibrationError, match="never read with nothing on"):
        evaluate(replace(record, windows=windows))


def test_without_a_load_left_on_there_is_no_creep() -> None:
    record = make_record(Plate())
    left_on = {p.number for p in record.placements if p.kind is Kind.CREEP}
    result = evaluate(replace(record, windows=tuple(w for w in record.windows if w.placement not in left_on)))
    assert not any(figure.name in (found.CREEP, found.RETURN) for figure in result.figures)
    assert result.worth.sides[0].creep_part == 0.0


def _scatter(seed: int) -> list[float]:
    scatter: list[float] = (0.2 * np.random.default_rng(seed).standard_normal(40)).tolist()
    return scatter
