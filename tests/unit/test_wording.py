"""What a guided calibration says: each step in one line that somebody with full hands understands."""

from __future__ import annotations

import pytest

from weightshare.metrology.reading import Kind, Mass, Placement, Spot
from weightshare.model import Side
from weightshare.workbench import wording
from weightshare.workbench.plan import Ask, Wanted, make_plan, moved_kg, placed_before

MASSES = tuple(Mass(f"{kg} kg", float(kg), 0.001) for kg in (10, 10, 20, 20))


def placement(*masses: int, spot: Spot = Spot.MIDDLE, kind: Kind = Kind.SERIES) -> Placement:
    """Return a placement on the left plate."""
    return Placement(0, Side.LEFT, kind, masses, spot)


def ask(*masses: int, spot: Spot = Spot.MIDDLE, kind: Kind = Kind.SERIES) -> Ask:
    """Return a step on the left plate."""
    return Ask(placement(*masses, spot=spot, kind=kind), sum(MASSES[i].kg for i in masses))


@pytest.mark.parametrize(
    ("before", "now", "words"),
    [
        (None, ask(), "Nothing on the LEFT plate: step back, and let nobody touch the scales"),
        (placement(), ask(0), "Lay the 10 kg mass on the middle of the LEFT plate"),
        (placement(), ask(0, 1), "Lay both 10 kg masses on the middle of the LEFT plate"),
        (placement(), ask(0, 1, 2, 3), "Lay all 4 masses (60 kg) on the middle of the LEFT plate"),
        (placement(0, 1), ask(0, 1, 2), "Add the 20 kg mass, on the middle of the LEFT plate"),
        (placement(0, 1, 2), ask(0, 1), "Take the 20 kg mass off the LEFT plate"),
        (placement(0), ask(), "Take the 10 kg mass off the LEFT plate"),
        (placement(0, 1, 2), ask(), "Take everything off the LEFT plate"),
        (
            placement(0, 1),
            ask(0, 1, spot=Spot.REAR_RIGHT),
            "Move both 10 kg masses to the rear right quarter of the LEFT plate",
        ),
    ],
)
def test_each_step_says_what_to_do(before: Placement | None, now: Ask, words: str) -> None:
    assert wording.headline(now, before, MASSES) == words


def test_every_step_of_a_plan_is_said_in_one_short_line() -> None:
    asks = make_plan(Wanted(MASSES))
    for step, one in enumerate(asks):
        words = wording.headline(one, placed_before(asks, step), MASSES)
        assert len(words) < 90
        assert one.placement.side.upper() in words


def test_what_is_moved_is_reckoned_by_plate() -> None:
    asks = make_plan(Wanted(MASSES))
    assert [moved_kg(asks, step, MASSES) for step in range(5)] == [0.0, 60.0, 60.0, 10.0, 10.0]
    right = next(step for step, one in enumerate(asks) if one.placement.side is Side.RIGHT)
    assert placed_before(asks, right) is None
    assert moved_kg(asks, right, MASSES) == 0.0


@pytest.mark.parametrize(
    ("seen_kg", "asked_kg", "words"),
    [
        (10.0, 98.1, "newtons"),
        (10.0, 10_000.0, "grams"),
        (10.0, 0.01, "1000"),
        (10.0, 1.02, "divided by 9.81"),
        (10.0, 22.05, "pounds"),
    ],
)
def test_a_factor_points_at_a_unit(seen_kg: float, asked_kg: float, words: str) -> None:
    assert words in wording.factor_hint(seen_kg, asked_kg)


@pytest.mark.parametrize(("seen_kg", "asked_kg"), [(10.0, 10.0), (10.0, 20.0), (0.0, 10.0), (-10.0, 10.0)])
def test_other_factors_point_at_none(seen_kg: float, asked_kg: float) -> None:
    assert wording.factor_hint(seen_kg, asked_kg) == ""


def test_a_load_that_is_left_on_says_for_how_long() -> None:
    assert wording.leave(ask(0, kind=Kind.CREEP), 240.0) == "Leave it there and touch nothing for 4 min more"
    assert wording.leave(ask(kind=Kind.DRIFT), 20.0) == "Keep off the scales for 20 s more"
