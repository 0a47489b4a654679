"""Everybody on the rig shifts the load when asked, and plates that are not set up well read so."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from weightshare.errors import OptionError
from weightshare.exercise import Exercise
from weightshare.model import Floats, Side
from weightshare.scales.rig.catalog import FAULTS, PEOPLE, Fault
from weightshare.scales.rig.person import Person
from weightshare.scales.rig.plan import Deed, Lane, Move, Phase, Task
from weightshare.scales.rig.sets import Cue
from weightshare.scales.rig.shift import Shift, plan_shift, put_off
from weightshare.scales.rig.upset import DRAG_N, Upset
from weightshare.scales.rig.wish import parse_spec

ASKED_S = 8.0


def share(person: Person, until_s: float, from_s: float = 0.0) -> Floats:
    time_s = np.arange(from_s, until_s, 0.02)
    forces = person.forces(time_s)
    left: Floats = 100.0 * forces[:, :2].sum(axis=1) / np.maximum(forces.sum(axis=1), 1.0)
    return left


@pytest.mark.parametrize("injured", list(Side))
@pytest.mark.parametrize("name", PEOPLE)
def test_everybody_goes_to_the_left_and_to_the_right_and_comes_back(name: str, injured: Side) -> None:
    person = Person(PEOPLE[name], Task(injured, exercise=Exercise.LOWERING), 3, patience_s=60.0)
    share(person, ASKED_S)
    person.shift(Shift(38.0, 62.0))
    left = share(person, 40.0, ASKED_S)
    assert 56.0 < left.max() < 71.0 and 29.0 < left.min() < 44.0
    assert np.argmax(left > 56.0) < np.argmin(left), "the left comes first"


def test_who_does_not_follow_is_asked_all_the_same_and_nobody_else_is() -> None:
    for name in ("quiet", "favouring"):
        person = Person(PEOPLE[name], Task(), 3)
        share(person, ASKED_S)
        still = share(person, 20.0, ASKED_S)
        assert np.ptp(still) < 20.0


def test_what_was_planned_comes_later_and_cues_are_still_followed() -> None:
    task = Task(Side.LEFT, exercise=Exercise.RAISE, sets=1, repetitions=2)
    starts = []
    for shifts in (False, True):
        person = Person(PEOPLE["raiser"], task, 3, patience_s=60.0)
        share(person, ASKED_S)
        if shifts:
            person.shift(Shift())
            share(person, 45.0, ASKED_S)
        now_s = 45.0 if shifts else ASKED_S
        person.cue(Cue(now_s))
        share(person, now_s + 20.0, now_s)
        (first, *_) = [deed.from_s for deed in person.deeds if deed.what == "repetition"]
        starts.append(first - now_s)
    assert starts[1] == pytest.approx(starts[0], abs=4.0) and 0.0 < starts[1] < 8.0


def test_the_ends_of_an_exact_shift_are_whole() -> None:
    moves, end_s = plan_shift(Shift(0.0, 100.0, 2, 6.0, exact=True), Side.RIGHT, 5.0, 45.0, np.random.default_rng(1))
    assert [move.value for move in moves] == [0.0, 100.0, 45.0] and {move.lane for move in moves} == {Lane.SHARE}
    assert end_s == pytest.approx(moves[-1].start_s + moves[-1].duration_s)


def test_a_phase_put_off_is_the_same_later() -> None:
    phase = Phase(9.0, (Move(Lane.SHARE, 5.0, 1.0, 60.0),), "on", 5.0, Deed("rest", 5.0, 8.0))
    late = put_off(phase, 10.0)
    assert late == Phase(19.0, (Move(Lane.SHARE, 15.0, 1.0, 60.0),), "on", 15.0, Deed("rest", 15.0, 18.0))
    assert put_off(phase, 0.0) is phase


def test_balance_is_a_wish_with_one_value() -> None:
    assert parse_spec("quiet,balance=ask")[1]["balance"] == "ask"
    with pytest.raises(OptionError, match="balance=yes"):
        parse_spec("quiet,balance=yes")


def loads(left_N: Floats, right_N: Floats) -> Floats:
    return np.column_stack((0.4 * left_N, 0.6 * left_N, 0.4 * right_N, 0.6 * right_N))


def test_a_plate_that_reads_high_does_so_in_both_its_parts() -> None:
    force_N = loads(np.full(5, 300.0), np.full(5, 400.0))
    read_N = Upset(FAULTS["mismatch"]).apply(force_N)
    assert read_N[:, :2] == pytest.approx(1.02 * force_N[:, :2]) and (read_N[:, 2:] == force_N[:, 2:]).all()
    assert Upset(FAULTS["clean"]).apply(force_N) is not None


def test_plates_that_touch_keep_the_total_and_do_not_come_back() -> None:
    on_N = np.concatenate((np.linspace(0, 1000, 100), np.linspace(1000, 0, 100)))
    force_N = loads(on_N, np.zeros(200))
    read_N = Upset(FAULTS["touching"]).apply(force_N)
    assert read_N.sum(axis=1) == pytest.approx(force_N.sum(axis=1))
    assert read_N[99, 2:].sum() == pytest.approx(DRAG_N), "the other plate is pushed"
    assert read_N[-1, :2].sum() == pytest.approx(DRAG_N) and read_N[-1, 2:].sum() == pytest.approx(-DRAG_N)


@pytest.mark.parametrize("name", ["touching", "rocking"])
def test_blocks_do_not_matter_to_plates_that_are_upset(name: str) -> None:
    rng = np.random.default_rng(2)
    sway = np.cumsum(rng.standard_normal((400, 4)), axis=0)
    force_N = 150.0 + sway - sway.min()
    whole, fault = Upset(FAULTS[name]).apply(force_N), Upset(FAULTS[name])
    parts = np.concatenate([fault.apply(force_N[k : k + 37]) for k in range(0, 400, 37)])
    assert parts == pytest.approx(whole, abs=1e-9) and not np.allclose(whole, force_N)


def test_a_plate_that_rocks_keeps_its_load() -> None:
    force_N = loads(np.full(200, 350.0), np.full(200, 350.0))
    force_N[:100, 0] += 20.0
    read_N = Upset(FAULTS["rocking"]).apply(force_N)
    assert read_N[:, :2].sum(axis=1) == pytest.approx(force_N[:, :2].sum(axis=1))
    assert (read_N[:, 2:] == force_N[:, 2:]).all()


def test_a_mismatch_of_any_size_can_be_asked_for() -> None:
    fault = replace(FAULTS["clean"], left_high_percent=-5.0)
    assert isinstance(fault, Fault)
    assert Upset(fault).apply(loads(np.ones(1), np.ones(1)))[0, :2].sum() == pytest.approx(0.95)
