"""Sets begin when they should: by a cue, by oneself, on a beat; and rests last until the next."""

from __future__ import annotations

import threading

import numpy as np
import pytest

from tests.unit.visits import cast_of, manner_of, task_of
from weightshare.exercise import Exercise, Surface, Tempo
from weightshare.model import Side
from weightshare.scales.rig.catalog import PEOPLE
from weightshare.scales.rig.person import BROKEN_OFF, Person
from weightshare.scales.rig.plan import Deed
from weightshare.scales.rig.sets import Cue
from weightshare.scales.rig.visit import measured_visit

SHORT = Tempo(0.8, 0.4, 1.0, 0.8)
FOLLOWERS = [name for name, who in PEOPLE.items() if (who.follows or who.steered) and not who.manner.leans_only]
MOVING = [exercise for exercise in Exercise if exercise is not Exercise.HOLD]


def play(person: Person, seconds: float, cues: tuple[Cue, ...] = (), block: int = 65) -> list[Deed]:
    """Look at a person in blocks, as a scale does, each cue given when its time has come."""
    left = list(cues)
    time_s = np.arange(round(seconds * 100)) / 100.0
    for begin in range(0, len(time_s), block):
        rows = time_s[begin : begin + block]
        while left and left[0].time_s < rows[0]:
            person.cue(left.pop(0))
        person.look(rows)
    return [deed for deed in person.deeds if deed.to_s < seconds]


def begins(deeds: list[Deed]) -> dict[int, float]:
    """When the first repetition of each set begins."""
    first: dict[int, float] = {}
    for deed in deeds:
        if deed.counts:
            first.setdefault(deed.number, deed.from_s)
    return first


@pytest.mark.parametrize(("name", "repetitions"), [*((name, 4) for name in FOLLOWERS), ("raiser", 1), ("raiser", 9)])
def test_everybody_who_is_cued_does_as_many_as_were_asked_for(name: str, repetitions: int) -> None:
    task = task_of(repetitions=repetitions, tempo=SHORT)
    deeds = play(Person(PEOPLE[name], task, 1, patience_s=20.0), 60.0, (Cue(12.0),))
    counted = [deed for deed in deeds if deed.counts]
    assert len(counted) == repetitions
    assert {deed.what for deed in counted} == {"repetition"}
    assert 12.9 < counted[0].from_s < 13.8


@pytest.mark.parametrize("exercise", MOVING)
@pytest.mark.parametrize(
    ("name", "surface"),
    [
        *((name, Surface.FLOOR) for name in ("steady", "shaky", "rail", "leaver", "steered", "raiser")),
        *((name, Surface.STEP) for name in ("leaver", "raiser")),
    ],
)
def test_every_follower_does_every_exercise(exercise: Exercise, name: str, surface: Surface) -> None:
    task = task_of(exercise, repetitions=5, holds=2, surface=surface)
    _, truth = measured_visit(cast_of(PEOPLE[name], task), 70.0, 80.0)
    if exercise is Exercise.HEEL_HOLD:
        assert len(truth["holds"]) == (0 if name == "steered" else 2)
        assert truth["repetitions"] == []
    else:
        assert len(truth["repetitions"]) == 5
        assert truth["holds"] is None
    assert truth["exercise"] == exercise


@pytest.mark.parametrize("name", ["quiet", "favouring"])
def test_who_does_not_follow_does_nothing(name: str) -> None:
    person = Person(PEOPLE[name], task_of(), 1)
    assert play(person, 60.0, (Cue(12.0),)) == []


def test_without_a_cue_it_goes_by_itself_and_rests_a_little_longer_than_asked() -> None:
    task = task_of(sets=3, repetitions=2, rest_s=10.0, tempo=SHORT)
    deeds = play(Person(PEOPLE["raiser"], task, 1), 120.0)
    first = begins(deeds)
    assert list(first) == [1, 2, 3]
    assert 9.5 < first[1] < 12.5
    ends = {number: max(deed.to_s for deed in deeds if deed.number == number) for number in first}
    for number in (1, 2):
        assert 12.0 < first[number + 1] - ends[number] < 17.0


def test_the_first_cue_is_waited_for_and_then_not_any_longer() -> None:
    by_itself = begins(play(Person(PEOPLE["raiser"], task_of(), 1, patience_s=20.0), 60.0))
    assert 28.5 < by_itself[1] < 31.5


def test_who_was_cued_rests_until_the_next_cue() -> None:
    task = task_of(sets=3, repetitions=2, rest_s=1.0, tempo=SHORT)
    deeds = play(Person(PEOPLE["raiser"], task, 1, patience_s=20.0), 200.0, (Cue(15.0), Cue(90.0)))
    first = begins(deeds)
    assert list(first) == [1, 2]
    assert 15.9 < first[1] < 16.8
    assert 90.9 < first[2] < 91.8


def test_more_sets_than_asked_for_are_done_when_they_are_cued() -> None:
    cues = tuple(Cue(15.0 + 20.0 * number) for number in range(5))
    deeds = play(Person(PEOPLE["raiser"], task_of(sets=3, repetitions=2, tempo=SHORT), 1), 130.0, cues)
    # the first set began by itself before any cue came
    assert len(begins(deeds)) == 6


def test_a_cue_ends_the_set_under_way_after_its_repetition() -> None:
    person = Person(PEOPLE["raiser"], task_of(repetitions=10), 1)
    deeds = play(person, 90.0, (Cue(22.0),))
    by_set = {number: [deed for deed in deeds if deed.counts and deed.number == number] for number in (1, 2)}
    assert 2 <= len(by_set[1]) <= 4
    assert by_set[1][-1].to_s < by_set[2][0].from_s
    assert 22.9 < by_set[2][0].from_s < 29.0
    assert len(by_set[2]) == 10


def test_a_cue_before_one_is_weighed_is_followed_afterwards() -> None:
    deeds = play(Person(PEOPLE["raiser"], task_of(), 1, patience_s=20.0), 60.0, (Cue(1.0),))
    assert 9.0 < begins(deeds)[1] < 11.5


def test_when_the_cue_is_seen_does_not_matter() -> None:
    courses = []
    for block in (5, 33, 65):
        person = Person(PEOPLE["raiser"], task_of(), 1, patience_s=20.0)
        play(person, 40.0, (Cue(14.0),), block)
        courses.append(np.concatenate(person.look(np.arange(10.0, 39.0, 0.05)), axis=1))
    assert courses[0] == pytest.approx(courses[1], abs=1e-9)
    assert courses[0] == pytest.approx(courses[2], abs=1e-9)


def test_each_cue_may_name_another_working_leg() -> None:
    task = task_of(Exercise.SINGLE_RAISE, repetitions=2)
    _, truth = measured_visit(cast_of(PEOPLE["raiser"], task), 90.0, cues=[Cue(9.0), Cue(50.0, Side.RIGHT)])
    assert [one["working_side"] for one in truth["repetitions"]] == ["left", "left", "right", "right"]
    assert all(one["share_lowering_percent"] > 99.9 for one in truth["repetitions"][:2])
    assert all(one["share_lowering_percent"] < 0.1 for one in truth["repetitions"][2:])
    assert [(one["number"], one["working_side"]) for one in truth["sets"]] == [(1, "left"), (2, "right")]


def test_repetitions_begin_on_the_metronomes_beats() -> None:
    tempo = Tempo(1.0, 1.0, 2.0, 1.0)
    person = Person(PEOPLE["raiser"], task_of(repetitions=8, tempo=tempo), 1, patience_s=20.0)
    late = np.array([deed.from_s for deed in play(person, 90.0, (Cue(12.0, beat_s=16.0),)) if deed.counts])
    off = (late - 16.0 + 2.5) % tempo.cycle_s - 2.5
    assert late.size == 8
    assert late[0] == 16.0
    assert np.abs(off).max() < 0.15


def test_who_misses_a_beat_takes_the_next_one() -> None:
    # the pause half-way up takes longer than the half second that is given
    who = manner_of("pausing")
    tempo = Tempo(0.5, 0.3, 0.6, 0.6)
    deeds = play(Person(who, task_of(repetitions=6, tempo=tempo), 1, 20.0), 60.0, (Cue(11.0, beat_s=14.0),))
    starts = np.array([deed.from_s for deed in deeds if deed.counts])
    beats = np.round((starts - 14.0) / tempo.cycle_s)
    assert np.all(np.diff(beats) >= 1)
    assert beats[-1] > 5


def test_cues_from_other_threads_begin_one_set() -> None:
    person = Person(PEOPLE["raiser"], task_of(repetitions=1), 1, patience_s=20.0)
    person.look(np.arange(0.0, 12.0, 0.01))
    threads = [threading.Thread(target=person.cue, args=(Cue(12.0),)) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(5.0)
    for begin in np.arange(12.0, 40.0, 0.5):
        person.look(np.arange(begin, begin + 0.5, 0.01))
    assert len([deed for deed in person.deeds if deed.counts]) == 1


def test_the_keys_still_set_the_share_while_a_steered_person_raises_by_itself() -> None:
    person = Person(PEOPLE["steered"], task_of(repetitions=6), 1)
    shares = []
    for begin in np.arange(0.0, 45.0, 0.5):
        if begin in (15.0, 25.0):
            person.steer(15.0)
        force_N, _ = person.look(np.arange(begin, begin + 0.5, 0.01))
        shares.append(100.0 * force_N[:, :2].sum() / max(force_N.sum(), 1.0))
    assert np.mean(shares[22:29]) == pytest.approx(50.0, abs=1.0)
    assert np.mean(shares[32:49]) == pytest.approx(65.0, abs=1.0)
    assert np.mean(shares[52:]) == pytest.approx(80.0, abs=1.0)
    assert len([deed for deed in person.deeds if deed.counts]) == 6


def test_the_keys_are_left_alone_where_one_leg_works_alone() -> None:
    person = Person(PEOPLE["steered"], task_of(Exercise.SINGLE_RAISE), 1)
    person.look(np.arange(0.0, 15.0, 0.01))
    person.steer(-40.0)
    force_N, height_mm = person.look(np.arange(15.0, 20.0, 0.01))
    assert force_N[:, 2:].max() < 1e-6
    assert height_mm[:, 1].min() > 50.0


def test_whoever_is_sent_off_breaks_off_and_does_nothing_until_back_and_cued() -> None:
    person = Person(PEOPLE["steered"], task_of(repetitions=6), 1)
    person.look(np.arange(0.0, 18.0, 0.01))
    person.step()
    gone_N, gone_mm = person.look(np.arange(18.0, 30.0, 0.01))
    assert gone_N[100:].max() < 1e-6
    assert gone_mm[100:].min() > 200.0
    person.step()
    person.look(np.arange(30.0, 33.0, 0.01))
    broken = [deed for deed in person.deeds if deed.what == BROKEN_OFF]
    assert len(broken) == 1
    assert broken[0].to_s == pytest.approx(17.99)
    done = len([deed for deed in person.deeds if deed.counts and deed.what == "repetition"])
    person.cue(Cue(33.0))
    for begin in np.arange(33.0, 75.0, 0.5):
        force_N, _ = person.look(np.arange(begin, begin + 0.5, 0.01))
    assert len([deed for deed in person.deeds if deed.counts and deed.what == "repetition"]) == done + 6
    assert force_N.sum(axis=1).mean() == pytest.approx(700.0, rel=0.02)
