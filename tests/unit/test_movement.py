"""What the movement asks of the load, sample by sample, through the whole measure."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.unit.heels import PLAIN, analyse, heeled, with_column
from tests.unit.raises import Scene, raises
from weightshare.exercise import Basis, Exercise, Phase, SetSpan, Surface, Tempo
from weightshare.model import HEIGHT_COLUMNS, PART_COLUMNS, SIDE_COLUMNS, TRACE_COLUMNS, Side, Trace
from weightshare.pipeline.analysis import analyse_trace
from weightshare.pipeline.block import Block
from weightshare.pipeline.height import UNSEEN
from weightshare.pipeline.measure import Measure
from weightshare.pipeline.movement import choose_basis
from weightshare.state import Snapshot, State
from weightshare.task import Settings

LOWERING = replace(PLAIN, exercise=Exercise.LOWERING, tempo=Tempo(1.0, 1.0, 2.0))
HEEL_HOLD = replace(PLAIN, exercise=Exercise.HEEL_HOLD, target_percent=50.0, reference_height_mm=80.0)


def shown_at(trace: Trace, settings: Settings, time_s: float) -> Snapshot:
    """Return the snapshot after the samples up to `time_s`."""
    measure, stop = Measure(settings), int(trace.time_s.searchsorted(time_s))
    columns = tuple(name for name in TRACE_COLUMNS if name in trace.columns)
    values = np.stack([trace.columns[name][:stop] for name in columns])
    measure.push(Block(0.01, columns, trace.time_s[:stop], values, np.zeros(stop, dtype=np.uint8)))
    return measure.snapshot()


@pytest.mark.parametrize(
    ("time_s", "phase", "aim", "state"),
    [
        (4.5, Phase.BOTTOM, 50.0, State.AT_BOTTOM),
        (5.6, Phase.RISE, 50.0, State.IN_BAND),
        (6.9, Phase.TOP, 75.0, State.TOO_LITTLE),
        (8.0, Phase.LOWERING, 75.0, State.TOO_LITTLE),
        (9.9, Phase.BOTTOM, 50.0, State.AT_BOTTOM),
    ],
)
def test_the_band_follows_the_phase(time_s: float, phase: Phase, aim: float, state: State) -> None:
    shown = shown_at(heeled(raises((1.0, 1.0, 2.0), 1)), LOWERING, time_s)
    assert (shown.phase, shown.state) == (phase, state)
    assert shown.aim_percent == pytest.approx(aim, abs=5.0)
    assert shown.in_band is (state is State.IN_BAND)


def test_since_when_a_phase_lasts_is_told_without_the_delay() -> None:
    shown = shown_at(heeled(raises((1.0, 1.0, 2.0), 1)), LOWERING, 5.6)
    assert shown.phase_since_s == pytest.approx(5.33, abs=0.03)


def test_a_repetition_is_told_a_second_after_its_lift() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 1, pause_s=3.0))
    assert len(shown_at(trace, LOWERING, 9.3).repetitions) == 0
    assert len(shown_at(trace, LOWERING, 9.5).repetitions) == 1


def test_time_at_the_bottom_is_not_in_the_band() -> None:
    """Standing evenly is no part of a raise, though evenness is what the rise asks for."""
    band = analyse(heeled(raises((1.0, 1.0, 2.0), 1, turn=0.25)), LOWERING).band
    assert band is not None
    assert 3.0 < band.time_in_band_s < 4.2


def test_flat_on_the_floor_nothing_is_held() -> None:
    """Evenness on flat feet is no heel raise held, however long."""
    analysis = analyse(heeled(Scene().rest(30.0)), HEEL_HOLD)
    assert (analysis.holds, analysis.total_held_s) == ((), 0.0)
    assert shown_at(heeled(Scene().rest(30.0)), HEEL_HOLD, 20.0).state is State.HEELS_DOWN


def test_with_the_heels_up_it_is_held() -> None:
    analysis = analyse(heeled(raises((1.0, 10.0, 2.0), 1)), HEEL_HOLD)
    assert analysis.holds is not None
    assert [hold.held_s for hold in analysis.holds] == [pytest.approx(11.5, abs=0.3)]


def test_one_heel_alone_is_not_up() -> None:
    trace = heeled(raises((1.0, 10.0, 2.0), 1))
    trace = with_column(trace, "right_heel_height_mm", np.zeros(trace.time_s.size))
    assert analyse(trace, HEEL_HOLD).total_held_s == 0.0


def test_where_no_heel_is_seen_the_load_alone_counts() -> None:
    trace = heeled(Scene().rest(30.0))
    for name in HEIGHT_COLUMNS:
        del trace.columns[name]
    assert analyse(trace, HEEL_HOLD).total_held_s == pytest.approx(37.99, abs=0.1)
    assert not shown_at(trace, HEEL_HOLD, 20.0).heels_seen


def test_that_no_heel_was_seen_is_said_of_holds() -> None:
    trace = heeled(Scene().rest(20.0))
    blind = Trace(trace.time_s, {name: trace.columns[name] for name in SIDE_COLUMNS})
    said = "whether the heels were up is not known: load only, heel not seen"
    assert analyse(blind, HEEL_HOLD).warnings[0] == said
    assert said not in analyse(trace, HEEL_HOLD).warnings
    assert said not in analyse(blind, replace(HEEL_HOLD, exercise=Exercise.HOLD)).warnings


def test_a_sole_under_the_heel_is_no_raise() -> None:
    """The height is told from the level of standing: a sensor that reads 45 mm all the time sees nobody lift."""
    trace = heeled(Scene().rest(30.0))
    for name in HEIGHT_COLUMNS:
        trace = with_column(trace, name, np.full(trace.time_s.size, 45.0))
    assert analyse(trace, HEEL_HOLD).total_held_s == 0.0
    assert analyse(trace, replace(HEEL_HOLD, surface=Surface.STEP)).total_held_s == pytest.approx(37.99, abs=0.1)


def test_repetitions_begin_with_practice() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 3))
    analysis = analyse(trace, replace(LOWERING, counting_from_s=9.5))
    assert [round(one.start_s or 0.0) for one in analysis.repetitions] == [10, 15]


@pytest.mark.parametrize(
    ("exercise", "columns", "basis"),
    [
        (None, SIDE_COLUMNS, None),
        (None, SIDE_COLUMNS + PART_COLUMNS, Basis.FORCE),
        (None, TRACE_COLUMNS, Basis.HEIGHT),
        (Exercise.HOLD, TRACE_COLUMNS, None),
        (Exercise.HEEL_HOLD, TRACE_COLUMNS, None),
        (Exercise.LOWERING, SIDE_COLUMNS + PART_COLUMNS + HEIGHT_COLUMNS[1:], Basis.FORCE),
        (Exercise.LOWERING, SIDE_COLUMNS, Basis.PACED),
        (Exercise.SQUAT, TRACE_COLUMNS, Basis.FORCE),
    ],
)
def test_the_best_basis_is_chosen(exercise: Exercise | None, columns: tuple[str, ...], basis: Basis | None) -> None:
    assert choose_basis(replace(LOWERING, exercise=exercise), columns) is basis


def test_a_basis_that_is_asked_for_is_taken() -> None:
    assert choose_basis(replace(LOWERING, basis=Basis.PACED), TRACE_COLUMNS) is Basis.PACED
    assert choose_basis(replace(LOWERING, basis=Basis.HEIGHT), SIDE_COLUMNS) is None


def test_that_nothing_tells_repetitions_is_said() -> None:
    trace = Trace(np.arange(800) / 100.0, {name: np.full(800, 350.0) for name in SIDE_COLUMNS})
    said = analyse(trace, replace(LOWERING, tempo=None)).warnings
    assert "repetitions are not known: neither heel heights nor front and rear supports were measured" in said


def test_a_leg_whose_heel_is_not_measured_has_no_repetitions_and_that_is_said() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 3))
    single = replace(PLAIN, exercise=Exercise.SINGLE_RAISE)
    spans = [SetSpan(1, 4.0, 9.5, Side.LEFT), SetSpan(2, 9.9, None, Side.RIGHT)]
    assert UNSEEN not in analyse_trace(trace, single, spans).warnings
    one = Trace(trace.time_s, {name: x for name, x in trace.columns.items() if name != "right_heel_height_mm"})
    analysis = analyse_trace(one, single, spans)
    assert [len(one.repetitions) for one in analysis.sets] == [1, 0]
    assert UNSEEN in analysis.warnings


def test_where_the_other_leg_works_its_share_is_asked_for() -> None:
    """The band of a set on the uninjured leg lies at the other end."""
    trace = heeled(raises((1.0, 1.0, 2.0), 3))
    total = trace.columns["left_N"] + trace.columns["right_N"]
    on_right = trace.time_s < 9.8
    trace = with_column(trace, "left_N", np.where(on_right, 0.0, total))
    trace = with_column(trace, "right_N", np.where(on_right, total, 0.0))
    single = replace(PLAIN, exercise=Exercise.SINGLE_RAISE, target_percent=100.0)
    spans = [SetSpan(1, 4.0, 9.5, Side.RIGHT), SetSpan(2, 9.9, None, Side.LEFT)]
    analysis = analyse_trace(trace, single, spans)
    assert [one.lowering_in_band_percent for one in analysis.repetitions] == [100.0] * 3
    assert analysis.band is not None
    assert analysis.band.time_in_band_s > 9.0


@pytest.mark.parametrize(("basis", "lacking"), [(Basis.HEIGHT, "heel's height"), (Basis.FORCE, "front and rear")])
def test_what_a_basis_lacks_is_named(basis: Basis, lacking: str) -> None:
    trace = Trace(np.arange(800) / 100.0, {name: np.full(800, 350.0) for name in SIDE_COLUMNS})
    assert any(lacking in said for said in analyse(trace, replace(LOWERING, basis=basis)).warnings)
