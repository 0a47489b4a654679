"""What a heel's height is worth, from the calibration's file to the figures that are made of it."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest

from hardware.make.table import seen_percent
from tests.unit.test_answer import BOTH, RAISE, RAISED, asked
from tests.unit.test_worth import CALIBRATION, CHANNELS, WORTH, with_worth
from weightshare.cli.table import appraisal_table
from weightshare.errors import CalibrationError
from weightshare.metrology.heel import PLACE_PART_PER_MM, STANDARD_HEEL, heel_of, height_u_mm, travel_u_J
from weightshare.metrology.index import Kind
from weightshare.metrology.scatter import scatter_of
from weightshare.model import HeelWorth, Identity, Side
from weightshare.pipeline.couple import couple_calibrations
from weightshare.records.calibration import calibration_to_json, parse_calibration
from weightshare.records.figure import BEST_HEIGHT, LOAD_TRAVEL, MEAN_HEIGHT, Source, figures_of
from weightshare.records.symmetry import indices_of

HEEL = HeelWorth(0.8, 0.01)


def told(heel: HeelWorth | None) -> object:
    return calibration_to_json(replace(CALIBRATION, worth=replace(WORTH, heel=heel)))


def test_it_is_kept_in_the_file_and_nothing_stands_for_nothing() -> None:
    for heel in (HEEL, None):
        found = parse_calibration(json.loads(json.dumps(told(heel))), "scale.json")
        assert found.worth is not None and found.worth.heel == heel
        assert heel_of(found) == ((STANDARD_HEEL, True) if heel is None else (HEEL, False))
    assert heel_of(CALIBRATION) == (STANDARD_HEEL, True)


@pytest.mark.parametrize(
    ("heel", "said"),
    [
        ({"height_mm": -1.0, "place_part": 0.0}, "worth.heel.height_mm is -1"),
        ({"height_mm": 1.0, "place_part": 1.5}, "worth.heel.place_part is 1.5"),
        ({"height_mm": 1.0}, "worth.heel.place_part is missing"),
        ("good", "worth.heel"),
    ],
)
def test_what_is_wrong_is_named(heel: object, said: str) -> None:
    with pytest.raises(CalibrationError, match=r"^scale\.json") as found:
        parse_calibration(with_worth(heel=heel), "scale.json")
    assert said in str(found.value) and "\n" not in str(found.value)


def test_two_scales_are_worth_no_more_than_the_worse_one() -> None:
    both = [
        replace(CALIBRATION, device_id=name * 16, worth=replace(WORTH, heel=heel))
        for name, heel in (("a", HEEL), ("b", HeelWorth(0.5, 0.02)))
    ]
    scale, sides = Identity(CALIBRATION.device_id, (1, 0, 0), 1, 1_000_000, 80.0, CHANNELS), (Side.LEFT, Side.RIGHT)
    found = couple_calibrations((scale, scale), (both[0], both[1]), sides).worth
    assert found is not None and found.heel == HeelWorth(0.8, 0.02)
    none = couple_calibrations((scale, scale), (both[0], replace(both[1], worth=WORTH)), sides).worth
    assert none is not None and none.heel is None


def test_the_standard_build_is_that_of_the_drawings() -> None:
    """A foot 10 mm out of place shows so much less of its height (the table of the mechanics)."""
    for mm in (5.0, 10.0):
        assert PLACE_PART_PER_MM * mm == pytest.approx(1.0 - seen_percent(mm) / 100.0, abs=0.002)


def test_sensor_and_place_go_together_as_squares() -> None:
    assert height_u_mm(HEEL, 60.0) == pytest.approx(1.0)
    assert travel_u_J(HEEL, 30.0, 60.0, 0.0) == pytest.approx(0.5)
    assert travel_u_J(HEEL, 30.0, 60.0, 1.0 / 80.0) == pytest.approx(30.0 * math.hypot(1.0 / 60.0, 1.0 / 80.0))
    assert travel_u_J(HEEL, 0.0, 0.0, 0.01) == 0.0


def test_the_figures_of_a_session_have_it() -> None:
    appraisal = asked(RAISED, RAISE, BOTH)
    content = json.loads(json.dumps(appraisal.to_json()))
    assert content["height_worth"]["assumed"] is True
    best = [one for one in figures_of(content) if one.name == BEST_HEIGHT]
    assert len(best) == 2
    for one in best:
        # six decimals are kept
        assert one.u == pytest.approx(height_u_mm(STANDARD_HEEL, one.value), rel=1e-4)
        assert one.source is Source.INSTRUMENT
    found = {one.kind: one for one in indices_of(appraisal)}
    for name, kind in ((MEAN_HEIGHT, Kind.HEIGHT), (LOAD_TRAVEL, Kind.LOAD_TRAVEL)):
        mine = {one.side: one for one in figures_of(content) if one.name == name}
        for side, estimate in ((Side.LEFT, found[kind].injured), (Side.RIGHT, found[kind].uninjured)):
            assert estimate is not None and mine[side].u == pytest.approx(estimate.u, rel=1e-3)
            assert mine[side].source is Source.BOTH


def test_the_table_says_what_a_height_is_worth_and_that_it_is_assumed() -> None:
    appraisal = asked(RAISED, RAISE, BOTH)
    (row,) = (line for line in appraisal_table(appraisal).splitlines() if line.startswith("heel height"))
    # 2 x sqrt(1.1547^2 + (0.01559 x 75)^2) = 3.287, rounded up
    assert row.endswith("+- 3.3 mm at 75 mm, with k = 2, assumed, not measured on this scale")
    told = appraisal_table(replace(appraisal, heel=HEEL, heel_assumed=False))
    assert "mm at 75 mm, with k = 2, measured on this scale" in told
    assert "heel height" not in appraisal_table(replace(appraisal, heel=None))


def test_without_a_calibration_nothing_is_known_of_it() -> None:
    appraisal = asked(RAISED, RAISE, BOTH, None)
    content = json.loads(json.dumps(appraisal.to_json()))
    assert appraisal.heel is None and content["height_worth"] is None
    figures = figures_of(content)
    assert {one.u for one in figures if one.name == BEST_HEIGHT} == {None}
    assert {one.source for one in figures if one.name in (MEAN_HEIGHT, LOAD_TRAVEL)} == {Source.SPREAD}
    height = next(one for one in indices_of(appraisal) if one.kind is Kind.HEIGHT)
    assert height.limb_symmetry_index is not None and math.isnan(height.limb_symmetry_index.u)


@pytest.mark.parametrize(("first", "second", "together"), [([], [1.0], False), ([1.0, 2.0], [1.0], True)])
def test_a_scatter_takes_values_on_both_sides(first: list[float], second: list[float], together: bool) -> None:
    with pytest.raises(ValueError, match="values"):
        scatter_of(first, second, together=together)
