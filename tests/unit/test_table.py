"""The analysis as a person reads it: repetitions, sets, what was not counted, crossings of the ceiling."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from tests.unit.plates import analyse
from tests.unit.series import make_raise, make_series
from weightshare.cli.table import analysis_table
from weightshare.exercise import LOW, Basis, CeilingEvent, Exercise, Rejected, Repetition, SetSpan
from weightshare.model import Side
from weightshare.pipeline import Analysis
from weightshare.pipeline.endurance import Endurance, EnduranceSymmetry, LegEndurance
from weightshare.pipeline.fatigue import Fatigue
from weightshare.pipeline.sets import sum_up
from weightshare.task import Settings

LOWERING = Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING)
FULL = make_raise(
    123.4,
    rise_duration_s=1.0,
    top_duration_s=1.25,
    share_rise_percent=50.9,
    share_top_percent=68.0,
    share_lowering_thirds_percent=(76.2, 75.1, 100.0),
    lowering_least_N=512.3,
    height_uninjured_mm=96.0,
)


def made(*repetitions: Repetition, **more: Any) -> Analysis:
    """Return an analysis with these repetitions."""
    values = {"holds": None, "exercise": Exercise.LOWERING, "basis": Basis.HEIGHT, "repetitions": repetitions}
    return replace(analyse([(5.0, 350.0, 350.0)]), **(values | more))


def rows(analysis: Analysis) -> list[str]:
    return analysis_table(analysis).splitlines()


def cells(analysis: Analysis, number: int) -> dict[str, str]:
    """Return what stands in the row of repetition `number`, by the column's name and unit."""
    table = rows(analysis)
    at = next(place for place, row in enumerate(table) if row.startswith(" no"))
    names = [f"{name} {unit}" for name, unit in zip(table[at - 1].split(), table[at].split()[-13:], strict=True)]
    found = table[at + number].split()
    assert found[0] == str(number)
    return dict(zip(names, found[-13:], strict=True))


def test_a_repetition_is_a_row_of_its_figures() -> None:
    assert cells(made(FULL), 1) == {
        "start s": "123.40",
        "up s": "1.0",
        "top s": "1.2",
        "down s": "2.0",
        "up %": "50.9",
        "top %": "68.0",
        "down %": "75.0",
        "hi %": "76",
        "mid %": "75",
        "low %": "100",
        "band %": "90",
        "least N": "512",
        "heels mm": "80/96",
    }


def test_what_cannot_be_had_is_a_dash_and_never_an_old_or_made_up_number() -> None:
    bare = Repetition(Basis.FORCE, 3599.99, None, None, 3603.0)
    found = cells(made(bare, basis=Basis.FORCE), 1)
    assert found.pop("start s") == "3599.99"
    assert found.pop("heels mm") == "-/-"
    assert set(found.values()) == {"-"}
    assert "None" not in analysis_table(made(bare))


def test_the_row_fits_80_columns_and_100_with_its_marks() -> None:
    wide = replace(FULL, start_s=3599.99, share_rise_percent=100.0, share_top_percent=100.0, lowering_least_N=1500.0)
    marked = replace(wide, height_injured_mm=100.0, height_uninjured_mm=100.0, supported=True, incomplete_return=True)
    spans = [SetSpan(1, 0.0, 4000.0, blind=True)]
    analysis = made(wide, marked, sets=sum_up([wide, marked], spans, LOWERING))
    plain, with_marks = (row for row in rows(analysis) if "3599.99" in row)
    assert len(plain) <= 80
    assert with_marks.endswith(" supported,incomplete")
    assert max(map(len, rows(analysis))) <= 100


def test_it_says_how_many_and_on_what_they_rest() -> None:
    words = {
        Basis.HEIGHT: "2, by the heel's height",
        Basis.FORCE: "2, by the forces alone",
        Basis.PACED: "2, by the metronome",
    }
    for basis, told in words.items():
        assert f"{'repetitions':28}{told}" in rows(made(FULL, FULL, basis=basis))
    assert f"{'repetitions':28}none, by the heel's height" in rows(made())
    assert f"{'repetitions':28}not known" in rows(made(basis=None))
    assert not any("repetitions" in row for row in rows(made(basis=None, exercise=Exercise.HOLD)))


def test_holds_are_not_told_of_an_exercise_that_has_none() -> None:
    assert not any(row.startswith(("holds", "longest hold")) for row in rows(made(FULL)))
    assert any(row.startswith("holds") for row in rows(made(holds=(), exercise=Exercise.HOLD)))


def test_what_was_not_counted_has_its_time_and_reason() -> None:
    analysis = made(FULL, rejected=(Rejected(14.0, 14.9, LOW), Rejected(20.0, 20.456, "a foot left the plates")))
    table = rows(analysis)
    assert f"{'rejected':28}14.00 to 14.90 s: low" in table
    assert f"{'':28}20.00 to 20.46 s: a foot left the plates" in table


def sets_of(*spans: SetSpan, settings: Settings = LOWERING) -> list[str]:
    repetitions = make_series([100.0, 100.0, 100.0, 90.0, 80.0, 70.0])
    results = sum_up(repetitions, spans, settings)
    return rows(made(*repetitions, sets=results, exercise=settings.exercise))


def test_a_set_has_its_means_and_how_far_it_tired() -> None:
    table = sets_of(SetSpan(1, 0.0, 100.0))
    at = next(place for place, row in enumerate(table) if row.lstrip().startswith("set "))
    names = ["set", "from", "to", "count", "down", "down", "band", "heel", "load", "x", "travel"]
    assert table[at].split() == names
    assert table[at + 2].split() == ["1", "0.00", "100.00", "6", "2.0", "75.0", "90", "90", "144/192"]
    words = "from the first 3 to the last 3: height 20 % lower, share the same, tempo the same"
    assert table[at + 3].strip() == words


def test_repetitions_tell_their_set() -> None:
    table = sets_of(SetSpan(1, 0.0, 9.0), SetSpan(2, 14.0, 24.0, blind=True))
    at = next(place for place, row in enumerate(table) if row.startswith(" no set"))
    told = [row[3:7].strip() for row in table[at + 1 : at + 7]]
    assert told == ["1", "1", "", "2", "2", ""]
    assert any(row.endswith(" blind") for row in table)


def test_single_leg_work_tells_the_leg() -> None:
    settings = replace(LOWERING, exercise=Exercise.SINGLE_RAISE)
    table = sets_of(SetSpan(1, 0.0, 9.0, working=Side.RIGHT), SetSpan(2, 14.0, working=Side.LEFT), settings=settings)
    assert [row.split()[-2:] for row in table if row.endswith(" leg")] == [["right", "leg"], ["left", "leg"]]


def test_on_one_leg_no_band_stands_beside_the_time_on_both_feet() -> None:
    """It read `100 % +- 5 points`, and how little of a session on both feet was in that."""
    alone = rows(replace(made(), exercise=Exercise.SINGLE_RAISE))
    assert "asked                       the working leg alone" in alone
    assert not any(row.startswith(("band", "time in the band")) for row in alone)
    assert any(row.startswith("band") for row in rows(made()))
    assert any(row.endswith(", of all the time standing") for row in rows(made()))


def test_a_set_under_way_has_no_end() -> None:
    table = sets_of(SetSpan(1, 0.0))
    at = next(place for place, row in enumerate(table) if row.lstrip().startswith("set "))
    assert table[at + 2].split()[2] == "-"


def test_crossings_of_the_ceiling_are_told() -> None:
    events = (
        CeilingEvent(12.3, 12.55, 260.0),
        CeilingEvent(20.0, None, 300.0),
        CeilingEvent(30.0, 30.5, None, unread=True),
    )
    told = [row[28:] for row in rows(made(ceiling=events)) if row.startswith(("over the ceiling", " " * 28))]
    assert told[-4:] == [
        "2 times",
        "12.30 to 12.55 s, for 0.25 s: up to 260 N (26.5 kg)",
        "from 20.00 s: up to 300 N (30.6 kg)",
        "30.00 to 30.50 s, for 0.50 s: not watched, the load could not be read",
    ]
    assert f"{'over the ceiling':28}never" in rows(made(ceiling=()))
    assert not any("ceiling" in row for row in rows(made()))


@pytest.mark.parametrize(
    ("fall", "told"),
    [
        ((12.4, 3.14, -20.0), "height 12 % lower, share 3.1 points less, tempo 20 % quicker"),
        ((-0.6, -1.0, 8.0), "height 1 % higher, share 1.0 points more, tempo 8 % slower"),
        ((-0.4, 0.04, None), "height the same, share the same, tempo not known"),
    ],
)
def test_how_far_a_set_tired_is_said_in_words(fall: tuple[float | None, ...], told: str) -> None:
    """A tempo that fell by -20 % would have to be thought about."""
    repetitions = make_series([100.0] * 6)
    (result,) = sum_up(repetitions, [SetSpan(1, 0.0, 100.0)], LOWERING)
    table = rows(made(*repetitions, sets=(replace(result, fatigue=Fatigue(3, *fall)),)))
    assert f"{'':12}from the first 3 to the last 3: {told}" in table


def test_nothing_is_minus_zero() -> None:
    one = replace(FULL, rise_duration_s=-0.0, lowering_in_band_percent=-0.2, lowering_least_N=-0.4)
    found = cells(made(one), 1)
    assert (found["up s"], found["band %"], found["least N"]) == ("0.0", "0", "0")
    share = replace(made(one).share_percent, min=-0.04)
    assert f"{'':28}least 0.0 %, greatest 50.0 %, of all the time standing" in rows(made(one, share_percent=share))


LEGS = LegEndurance(1, 18, 61.5, "the tempo was missed"), LegEndurance(2, 25, None, None)
COMPARED = EnduranceSymmetry(72.0, 80.4, None, 61.0, ("the symmetry of best height is not known: it was not measured",))


def test_the_two_legs_stand_beside_each_other() -> None:
    told = [row[28:] for row in rows(made(endurance=Endurance(*LEGS, COMPARED)))]
    at = told.index("18 in set 1, to 61.50 s: the tempo was missed")
    assert told[at + 1 : at + 4] == [
        "25 in set 2",
        "count 72 %, mean height 80 %, best height - %, load x travel 61 %",
        "the symmetry of best height is not known: it was not measured",
    ]
