"""Which cycle of the metronome is under way."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from tests.shown import snapshot
from weightshare.exercise import Basis, Exercise, Phase, SetSpan, Tempo
from weightshare.model import Side
from weightshare.practice.coach import Sets
from weightshare.practice.pulse import PulseTeller
from weightshare.practice.screen import Pulse
from weightshare.practice.view import LiveView
from weightshare.task import Goal, Settings

TEMPO = Tempo(1.0, 1.0, 2.0, 1.0)
SETTINGS = Settings(Side.RIGHT, 75.0, exercise=Exercise.LOWERING, tempo=TEMPO)
SPAN = SetSpan(1, 10.0)


def view(
    time_s: float, phase: Phase, since_s: float | None, span: SetSpan = SPAN, age_s: float = 0.0, **more: Any
) -> LiveView:
    values: dict[str, Any] = {"basis": Basis.HEIGHT} | more
    shot = snapshot(time_s=time_s, phase=phase, phase_since_s=since_s, **values)
    return LiveView(shot, age_s=age_s, sets=Sets((span,)))


class Watched:
    """A teller that is asked view after view."""

    def __init__(self, settings: Settings = SETTINGS, goal: Goal | None = None) -> None:
        self.teller, self.settings, self.goal = PulseTeller(), settings, goal or Goal()

    def at(self, *args: Any, **more: Any) -> Pulse | None:
        return self.teller.push(view(*args, **more), self.settings, self.goal)


def test_it_waits_at_the_bottom_until_the_lift_is_seen_and_begins_with_it() -> None:
    watched = Watched()
    assert watched.at(12.0, Phase.BOTTOM, None) is None
    pulse = watched.at(13.0, Phase.RISE, 12.8)
    assert pulse is not None and pulse.tempo == TEMPO and pulse.since_s == pytest.approx(0.2)
    later = watched.at(15.0, Phase.LOWERING, 14.6)
    assert later is not None and later.cycle == pulse.cycle and later.since_s == pytest.approx(2.2)
    rest = watched.at(17.0, Phase.BOTTOM, 16.7)
    assert rest is not None and rest.cycle == pulse.cycle
    assert watched.at(17.9, Phase.BOTTOM, 16.7) is None, "the cycle is over, and nobody rises"


def test_each_lift_is_a_cycle_of_its_own_and_a_dip_on_the_way_is_none() -> None:
    watched = Watched()
    numbers = []
    for time_s, phase in (
        (12.0, Phase.RISE),
        (13.0, Phase.TOP),
        (14.0, Phase.LOWERING),
        (14.5, Phase.RISE),
        (15.0, Phase.LOWERING),
        (16.0, Phase.BOTTOM),
        (16.5, Phase.RISE),
    ):
        pulse = watched.at(time_s, phase, time_s)
        assert pulse is not None
        numbers.append(pulse.cycle)
    assert numbers[:-1] == [numbers[0]] * 6 and numbers[-1] != numbers[0]


def test_a_false_start_silences_it() -> None:
    watched = Watched()
    assert watched.at(12.0, Phase.RISE, 12.0) is not None
    assert watched.at(12.4, Phase.BOTTOM, 12.3) is None


def test_paced_it_leads_in_and_goes_on_by_itself_for_as_many_cycles_as_are_asked() -> None:
    paced = replace(SPAN, paced_from_s=14.0)
    watched = Watched(goal=Goal(repetitions=2))
    first = watched.at(10.0, Phase.BOTTOM, None, span=paced, basis=Basis.PACED)
    assert first == Pulse(1, TEMPO, -4.0, count_in=4, repeats=True)
    second = watched.at(23.9, Phase.BOTTOM, None, span=paced, basis=Basis.PACED)
    assert second is not None and second.cycle == 1 and second.since_s == pytest.approx(9.9)
    assert watched.at(24.1, Phase.BOTTOM, None, span=paced, basis=Basis.PACED) is None
    third = watched.at(90.0, Phase.BOTTOM, None, span=SetSpan(2, 90.0, paced_from_s=94.0), basis=Basis.PACED)
    assert third is not None and third.cycle == 2


def test_it_is_silent_in_a_blind_set_in_a_rest_without_a_tempo_and_on_old_data() -> None:
    rising = (13.0, Phase.RISE, 12.8)
    assert Watched().at(*rising, span=replace(SPAN, blind=True)) is None
    assert Watched().at(*rising, span=replace(SPAN, to_s=12.0)) is None
    assert Watched(replace(SETTINGS, tempo=None)).at(*rising) is None
    assert PulseTeller().push(replace(view(*rising), age_s=0.4), SETTINGS, Goal()) is None
    assert Watched().at(*rising) is not None


def test_who_is_seen_half_way_through_a_lift_gets_the_beat_with_the_next() -> None:
    """After data that stopped, or where a set begins within a lift, its begin is not known."""
    watched = Watched()
    assert watched.at(14.0, Phase.LOWERING, 13.8) is None
    watched.at(15.0, Phase.RISE, 14.9)
    assert watched.at(15.1, Phase.RISE, 14.9, age_s=0.4) is None
    assert watched.at(16.0, Phase.TOP, 15.9) is None
    watched.at(18.0, Phase.BOTTOM, 17.9)
    pulse = watched.at(19.0, Phase.RISE, 18.9)
    assert pulse is not None and pulse.since_s == pytest.approx(0.1)


def test_a_squat_begins_on_the_way_down() -> None:
    watched = Watched(replace(SETTINGS, exercise=Exercise.SQUAT))
    pulse = watched.at(12.0, Phase.LOWERING, 12.0)
    assert pulse is not None and pulse.first is Phase.LOWERING
