"""Wishes after `rig:` settle who stands there and what is done; where nothing is wished, the session does."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.errors import OptionError
from weightshare.exercise import Exercise, Surface, Tempo
from weightshare.model import Side
from weightshare.scales.rig import StepClock, rig_transport
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.wish import make_cast, make_heels
from weightshare.task import Goal, Settings

PLAIN = Settings(Side.LEFT)
ASKED = Settings(
    Side.RIGHT,
    80.0,
    4.0,
    0.5,
    exercise=Exercise.SINGLE_LOWERING,
    tempo=Tempo(2.0, 1.0, 4.0, 1.0),
    surface=Surface.STEP,
    working=Side.LEFT,
    reference_height_mm=90.0,
)
GOAL = Goal(20.0, 2, sets=4, repetitions=8, rest_s=45.0, to_exhaustion=True)


def test_a_task_is_what_a_session_asks_for() -> None:
    assert Task.of(ASKED, GOAL) == Task(
        injured=Side.RIGHT,
        target_percent=80.0,
        tolerance_percent=4.0,
        grace_s=0.5,
        hold_goal_s=20.0,
        exercise=Exercise.SINGLE_LOWERING,
        tempo=Tempo(2.0, 1.0, 4.0, 1.0),
        sets=4,
        repetitions=8,
        rest_s=45.0,
        surface=Surface.STEP,
        working=Side.LEFT,
        reference_height_mm=90.0,
        to_exhaustion=True,
        holds=2,
    )
    assert Task.of(PLAIN, Goal()).target_percent == 50.0
    assert Task.of(ASKED, GOAL).working_side is Side.LEFT
    assert Task(working=Side.RIGHT, exercise=Exercise.LOWERING).working_side is Side.LEFT


def test_wishes_go_before_what_the_session_asks_for() -> None:
    spec = (
        "tall,stage=lowering,tempo=1-1-2,repetitions=5,sets=2,rest=30,surface=floor,working=right,target=60,height=70,"
        "rate=80,seed=4,heels=none,placement=40"
    )
    cast, wishes = make_cast(spec, ASKED, GOAL, 20.0)
    task = cast.task
    assert (cast.profile.name, cast.seed, wishes["rate"], cast.patience_s) == ("tall", 4, "80", 20.0)
    assert (task.exercise, task.tempo, task.surface) == (Exercise.LOWERING, Tempo(1, 1, 2, 1), Surface.FLOOR)
    assert (task.repetitions, task.sets, task.rest_s, task.working) == (5, 2, 30.0, Side.RIGHT)
    assert (task.target_percent, task.reference_height_mm) == (60.0, 70.0)
    assert (task.injured, task.grace_s, task.to_exhaustion) == (Side.RIGHT, 0.5, True)
    assert (cast.heels.fitted, cast.placement_mm) == (False, 40.0)


def test_without_a_wish_the_session_is_followed() -> None:
    cast, _ = make_cast("raiser", ASKED, GOAL, 20.0)
    assert cast.task == Task.of(ASKED, GOAL)
    assert (cast.heels.fitted, cast.placement_mm) == (True, 0.0)
    assert make_cast("misplaced", ASKED, GOAL, 20.0)[0].placement_mm == 40.0
    assert make_cast("misplaced,placement=10", ASKED, GOAL, 20.0)[0].placement_mm == 10.0


@pytest.mark.parametrize(
    ("spec", "says"),
    [
        ("raiser,stage=jump", r"stage=jump .*hold, heel-hold, raise, lowering"),
        ("raiser,surface=sand", r"surface=sand .*floor, step"),
        ("raiser,working=both", r"working=both .*left, right"),
        ("raiser,tempo=1-2", r"1-2.*seconds up"),
        ("raiser,tempo=1-1-99", r"lowering"),
        ("raiser,repetitions=ten", r"repetitions=ten is no whole number"),
        ("raiser,repetitions=1.5", r"repetitions=1.5 is no whole number"),
        ("raiser,repetitions=0", r"--repetitions"),
        ("raiser,rest=long", r"rest=long is no number"),
        ("raiser,target=101", r"--target"),
        ("raiser,height=5", r"--reference-height-mm"),
        ("raiser,heels=two", r"heels two: there are fitted and none"),
        ("raiser,placement=900", r"placement.*-150 to 150 mm forward"),
        ("raiser,placement=far", r"placement=far is no number"),
        ("raiser,steps=3", r"steps=3.*there are person, seed.*placement"),
    ],
)
def test_a_wish_that_cannot_be_is_refused_in_one_line(spec: str, says: str) -> None:
    with pytest.raises(OptionError, match=says) as refusal:
        make_cast(spec, PLAIN, Goal(), 20.0)
    assert "\n" not in str(refusal.value)


def test_sensors_are_fitted_or_not() -> None:
    assert make_heels("none", 0.0).fitted is False
    with pytest.raises(OptionError, match=r"^--heels some"):
        make_heels("some", 0.0, "--")


def test_the_transport_carries_heights_unless_wished_away() -> None:
    for spec, channels in (("raiser", 6), ("raiser,heels=none", 4)):
        transport = rig_transport(spec, ASKED, GOAL, clock=StepClock())
        assert len(transport._station.scale.identity.channels) == channels
        assert transport.scene.cast.task.exercise is Exercise.SINGLE_LOWERING


def test_a_cue_for_nobody_is_nothing() -> None:
    transport = rig_transport("raiser", ASKED, GOAL, clock=StepClock())
    transport.cue()
    transport.scene.begin("scale", 0, 0.01)
    transport.scene.look(np.arange(0.0, 12.0, 0.01))
    person = transport.scene.person
    assert person is not None
    assert person.deeds == []
