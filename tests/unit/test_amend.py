"""Repetitions struck by hand, and phases moved by hand: what counts then, by the same code from the same samples."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import astuple, replace
from functools import cache

import numpy as np
import pytest

from tests.unit.pasts import LOWERING, SETS, raised
from tests.unit.series import make_raise
from tests.unit.visits import cast_of, task_of
from weightshare.errors import OptionError
from weightshare.exercise import STRUCK, Basis, Exercise, Phase, Rejected, Repetition, SetSpan, Tempo
from weightshare.model import TRACE_COLUMNS, Side, Trace
from weightshare.pipeline.amend import Change, Footage, Move, check_room, span_of
from weightshare.pipeline.analysis import nominal_interval_s, summarise
from weightshare.pipeline.anew import move_phase, phases_of
from weightshare.pipeline.block import Block
from weightshare.pipeline.endurance import OFF_TEMPO, judge
from weightshare.pipeline.measure import Measure
from weightshare.pipeline.tally import Tally
from weightshare.scales.rig.catalog import PEOPLE
from weightshare.scales.rig.sets import Cue
from weightshare.scales.rig.visit import measured_visit
from weightshare.task import Settings

HAIR_S = 1e-9
PACED = Tempo(1.0, 1.0, 2.0, 1.0)


def measure(
    trace: Trace, settings: Settings, spans: Sequence[SetSpan] = (), changes: Sequence[Change] = (), cut: int = 5000
) -> tuple[Tally, Tally, tuple[int, ...]]:
    """Return what was counted, what is counted with the changes, and the changes that found nothing."""
    footage, whole = Footage(changes), Measure(settings)
    whole.watch = footage.see
    names = tuple(name for name in TRACE_COLUMNS if name in trace.columns)
    values = np.stack([trace.columns[name] for name in names])
    block = Block(nominal_interval_s(trace.time_s), names, trace.time_s, values, np.zeros(trace.time_s.size, np.uint8))
    for span in spans:
        whole.begin_set(span)
    for start in range(0, trace.time_s.size, cut):
        whole.push(block.cut(start, start + cut))
    whole.finish()
    tally = whole.tally()
    return tally, footage.amend(tally), footage.lost


@cache
def bent(exercise: Exercise) -> Trace:
    task = task_of(exercise, None, repetitions=3)
    return measured_visit(cast_of(PEOPLE["raiser"], task), 45.0, cues=[Cue(8.0)])[0]


KINDS: dict[str, tuple[Callable[[], Trace], Settings, tuple[SetSpan, ...]]] = {
    "height": (raised, LOWERING, SETS),
    "force": (raised, replace(LOWERING, basis=Basis.FORCE), SETS),
    "paced": (raised, replace(LOWERING, basis=Basis.PACED, tempo=PACED), (replace(SETS[0], paced_from_s=10.0),)),
    "squat": (lambda: bent(Exercise.SQUAT), Settings(Side.LEFT, 50.0, exercise=Exercise.SQUAT), ()),
    "chair": (lambda: bent(Exercise.SIT_TO_STAND), Settings(Side.LEFT, exercise=Exercise.SIT_TO_STAND), ()),
}


def changed(one: Repetition, number: int, *moves: Move) -> Change:
    return Change(number, *span_of(one), moves=moves)


@pytest.mark.parametrize("kind", KINDS)
def test_phases_moved_by_nothing_leave_every_figure_but_the_thirds_by_the_forces(kind: str) -> None:
    make, settings, spans = KINDS[kind]
    trace, down_first = make(), kind == "squat"
    tally, _, _ = measure(trace, settings, spans)
    one = next(rep for rep in tally.repetitions if len(phases_of(rep, down_first=down_first)) >= 2)
    number = tally.repetitions.index(one) + 1
    spans_s = phases_of(one, down_first=down_first)
    moves = [Move(phase, begin + HAIR_S, end + HAIR_S) for phase, (begin, end) in spans_s.items()]
    _, after, lost = measure(trace, settings, spans, [changed(one, number, *moves)])
    assert not lost
    found = after.repetitions[number - 1]
    assert found.start_s != one.start_s, "nothing was computed anew"
    if one.basis is Basis.FORCE:
        assert found.share_lowering_thirds_percent is None
        one, found = (replace(rep, share_lowering_thirds_percent=None) for rep in (one, found))
        one = replace(one, load_travel_injured_J=None, load_travel_uninjured_J=None)
    for name, before, later in zip(Repetition.__slots__, astuple(one), astuple(found), strict=True):
        # an end that lay right on a sample lies beside it now: one sample more is at the top
        near = 0.03 * (before or 0.0) if name == "top_share_sd_points" else 1e-5
        assert later == pytest.approx(before, abs=near), name


def test_the_share_of_a_moved_phase_is_the_ratio_of_impulses_between_its_new_ends() -> None:
    tally, _, _ = measure(raised(), LOWERING, SETS)
    one = tally.repetitions[1]
    assert one.lowering_s is not None and one.end_s is not None and one.top_s is not None
    span_s = one.lowering_s - 0.4, one.end_s - 0.3
    before, after, _ = measure(raised(), LOWERING, SETS, [changed(one, 2, Move(Phase.LOWERING, *span_s))])
    found = after.repetitions[1]
    assert (found.lowering_s, found.end_s, found.top_s) == (*span_s, one.top_s)
    assert found.lowering_duration_s == pytest.approx(one.end_s - one.lowering_s + 0.1)
    assert found.top_duration_s == pytest.approx(one.lowering_s - 0.4 - one.top_s)
    measured = Measure(LOWERING)
    names = ("left_N", "right_N")
    trace = raised()
    block = Block(
        0.01, names, trace.time_s, np.stack([trace.columns[n] for n in names]), np.zeros(trace.time_s.size, np.uint8)
    )
    shown = measured.push(block)
    # the filter's delay, sqrt(2) / (2 pi 6 Hz)
    time_s = shown.time_s - 2.0**0.5 / (2.0 * np.pi * 6.0)
    fine = np.linspace(*span_s, 20_001)
    left, right = (np.interp(fine, time_s, force) for force in (shown.left_N, shown.right_N))
    expected = 100.0 * np.trapezoid(left, fine) / np.trapezoid(left + right, fine)
    assert found.share_lowering_percent == pytest.approx(expected, abs=0.01)
    assert found.share_rise_percent == one.share_rise_percent, "what was not moved stays"
    others = [k for k in range(len(before.repetitions)) if k != 1]
    assert [after.repetitions[k] for k in others] == [before.repetitions[k] for k in others]


def test_what_is_struck_counts_nowhere_and_stays_listed() -> None:
    tally, _, _ = measure(raised(), LOWERING, SETS)
    one = tally.repetitions[5]
    _, after, _ = measure(raised(), LOWERING, SETS, [replace(changed(one, 6), struck=True)])
    assert one not in after.repetitions and len(after.repetitions) == len(tally.repetitions) - 1
    assert after.rejected == (*tally.rejected, Rejected(*span_of(one), STRUCK))
    first, second = summarise(LOWERING, after).sets
    assert (len(first.repetitions), len(second.repetitions)) == (4, 3)
    assert [span_of(after.repetitions[place])[0] > 44.0 for place in second.repetitions] == [True] * 3


def test_how_the_stream_is_cut_makes_no_difference_to_a_moved_phase() -> None:
    tally, _, _ = measure(raised(), LOWERING, SETS)
    one = tally.repetitions[2]
    assert one.start_s is not None and one.top_s is not None
    change = changed(one, 3, Move(Phase.RISE, one.start_s + 0.1, one.top_s + 0.05))
    whole = measure(raised(), LOWERING, SETS, [change], cut=100_000)[1]
    assert measure(raised(), LOWERING, SETS, [change], cut=61)[1].repetitions == whole.repetitions


def test_a_change_of_what_is_not_there_is_told_and_changes_nothing() -> None:
    tally, after, lost = measure(raised(), LOWERING, SETS, [Change(9, 2.0, 6.0, struck=True)])
    assert (after, lost) == (tally, (9,))


@pytest.mark.parametrize(
    ("phase", "span"),
    [(Phase.TOP, (1.0, 0.5)), (Phase.RISE, (0.0, 2.5)), (Phase.LOWERING, (0.9, 4.0)), (Phase.LOWERING, (2.0, 2.01)),
     (Phase.BOTTOM, (3.0, 4.0)), (Phase.TOP, (1.0, float("nan")))],
)  # fmt: skip
def test_phases_stay_in_their_order(phase: Phase, span: tuple[float, float]) -> None:
    with pytest.raises(OptionError, match=f"--phase {phase}"):
        move_phase(make_raise(0.0), phase, span, down_first=False)


def test_in_a_squat_the_lowering_comes_first_and_there_is_no_top() -> None:
    one = Repetition(Basis.FORCE, 10.0, 14.0, 10.0, 14.0, rise_duration_s=1.5, lowering_duration_s=1.5)
    assert phases_of(one, down_first=True) == {Phase.LOWERING: (10.0, 11.5), Phase.RISE: (12.5, 14.0)}
    moved = move_phase(one, Phase.RISE, (12.0, 14.5), down_first=True)
    assert (moved.top_s, moved.end_s, moved.rise_duration_s) == (14.5, 14.5, 2.5)
    for phase, span in ((Phase.TOP, (11.5, 12.5)), (Phase.LOWERING, (10.0, 13.0))):
        with pytest.raises(OptionError, match=f"--phase {phase}"):
            move_phase(one, phase, span, down_first=True)


def test_a_moved_repetition_keeps_out_of_others_and_within_the_session() -> None:
    others = [make_raise(0.0), make_raise(10.0)]
    assert not list(check_room(make_raise(5.0), others, (0.0, 20.0)))
    assert "another repetition goes from 10.000" in next(check_room(make_raise(6.5), others, (0.0, 20.0)))
    assert "the session goes from" in next(check_room(make_raise(17.0), others, (0.0, 20.0)))


def test_a_struck_repetition_is_held_against_nobodys_tempo() -> None:
    tempo = Tempo(1.0, 1.0, 2.0, 1.0)
    raises = [make_raise(5.0 * k) for k in range(7)]
    left = [one for k, one in enumerate(raises) if k not in (1, 3)]
    assert judge(left, tempo).reason == OFF_TEMPO
    struck = [Rejected(*span_of(raises[k]), STRUCK) for k in (1, 3)]
    assert judge(left, tempo, rejected=struck).count == 5
