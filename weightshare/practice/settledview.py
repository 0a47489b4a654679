"""What is shown of settled readings, as one frozen value, and how its figures are said."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.model import Side
from weightshare.practice.screen import Shape
from weightshare.scales.air.settled import Heard
from weightshare.scales.air.weighing import MassUnit
from weightshare.task import Settings
from weightshare.tongue import mark, number, say

LIMIT = mark(
    "Settled readings only: this kind of scale cannot time a hold, count a repetition, or follow you while you move."
)
_SECONDS = 60


@dataclass(frozen=True, slots=True)
class SideView:
    """One foot's reading, as text; empty where there is none to show."""

    side: Side
    title: str
    mark: Shape = Shape.RING
    state: str = ""
    """How the reading stands, in a few words."""
    load: str = ""
    percent: str = ""
    """Of body weight, where that is known."""
    original: str = ""
    """As the scale tells it, where that is not in kg."""
    faded: bool = False
    """The reading is old."""
    scale: str = ""
    """The scale's name and battery."""
    link: str = ""
    """How the scale is reached, and what is wrong with that."""
    troubled: bool = False
    """The scale cannot be used."""


@dataclass(frozen=True, slots=True)
class ShareView:
    """The injured side's share, or with one scale its part of body weight, as text."""

    share: str
    label: str
    age: str
    symmetry: str = ""
    asked: str = ""
    """What was asked for, and whether it was so; empty without a target."""
    faded: bool = False


@dataclass(frozen=True, slots=True)
class SettledView:
    """All that is shown of a session of settled readings."""

    headline: str
    mark: Shape = Shape.RING
    sides: tuple[SideView, ...] = ()
    share: ShareView | None = None
    share_missing: str = ""
    """Why there is no share."""
    body: str = ""
    notes: tuple[str, ...] = ()
    """Warnings, the weightiest first."""
    may_take_weight: bool = False
    """Whether the newest reading may be taken as body weight."""
    limit: str = LIMIT


def say_age(seconds: float) -> str:
    """Return how long ago something was, in words; in steps that can be read."""
    whole = int(seconds)
    if whole < _SECONDS:
        return say("{age} s ago", age=whole if whole < 10 else whole // 5 * 5)
    return say("{minutes} min {age} s ago", minutes=whole // _SECONDS, age=whole % _SECONDS // 10 * 10)


def say_kg(load_kg: float) -> str:
    """Return a load with one decimal."""
    return f"{number(load_kg, '.1f')} kg"


def say_original(heard: Heard) -> str:
    """Return a reading as its scale tells it, where that is not in kg."""
    weighing = heard.weighing
    if weighing is None or weighing.value is None or weighing.unit is MassUnit.KG:
        return ""
    return say("{value:.1f} {unit} on the scale", value=weighing.value, unit=weighing.unit)


def say_percent(load_kg: float, body_kg: float | None) -> str:
    """Return a load in percent of body weight; empty where that is not known."""
    return "" if not body_kg else say("{part:.0f} % of body weight", part=100.0 * load_kg / body_kg)


def say_foot(side: Side, settings: Settings) -> str:
    """Return which foot it is."""
    return say("{side:C} foot, injured", side=side) if side is settings.injured else say("{side:C} foot", side=side)


def sentence(words: str) -> str:
    """Return words that stand alone, beginning with a capital and ending with a full stop."""
    return words[:1].upper() + words[1:].rstrip(".") + "."
