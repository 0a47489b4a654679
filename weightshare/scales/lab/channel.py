"""Which of a stream's channels is the vertical force under which foot, by its labels and units."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from weightshare.errors import DeviceError
from weightshare.model import Side
from weightshare.scales.lab.unit import newtons_per, unit_of
from weightshare.scales.lab.wish import Wish

_TOKENS = re.compile(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+|\d+")
_SIDES = {Side.LEFT: {"left", "l", "lt"}, Side.RIGHT: {"right", "r", "rt"}}
_VERTICAL = ({"vertical", "vert", "vgrf"}, {"z", "fz", "grfz"})
"""What names a vertical force, the surer words first: z is up by custom alone."""


@dataclass(frozen=True, slots=True)
class StreamChannel:
    """One channel as the stream describes it; empty where it says nothing."""

    label: str
    unit: str


@dataclass(frozen=True, slots=True)
class Foot:
    """The channel under one foot: its place in the stream, and newtons of load for one of its unit."""

    index: int
    label: str
    unit: str
    newtons: float


def choose_feet(channels: Sequence[StreamChannel], wish: Wish) -> tuple[Foot, Foot]:
    """Return the channels under the left and the right foot.

    Raises DeviceError, without the stream's name, where it cannot be told, with the wish that tells it.
    """
    left, right = (_choose(channels, side, wish) for side in Side)
    if left.index == right.index:
        raise DeviceError(f"channel {_name(channels, left.index)} cannot be under both feet")
    return left, right


def _choose(channels: Sequence[StreamChannel], side: Side, wish: Wish) -> Foot:
    asked = wish.left if side is Side.LEFT else wish.right
    index = _find_side(channels, side, wish.unit) if asked is None else _find_asked(channels, asked)
    channel = channels[index]
    unit = unit_of(wish.unit or channel.unit)
    factor = None if unit is None else newtons_per(unit)
    if unit is None or factor is None:
        said = f"is in {channel.unit!r}, which is no force" if channel.unit else "does not say its unit"
        raise DeviceError(f"channel {_name(channels, index)} {said}; if it is a force, add its unit: ,unit=N")
    return Foot(index, channel.label or str(index + 1), unit, -factor if wish.negative else factor)


def _find_asked(channels: Sequence[StreamChannel], asked: str) -> int:
    found = [i for i, channel in enumerate(channels) if channel.label.lower() == asked.lower()]
    if not found and asked.isdecimal() and 1 <= int(asked) <= len(channels):
        found = [int(asked) - 1]
    if len(found) != 1:
        what = "several channels are called" if found else "there is no channel"
        raise DeviceError(f"{what} {asked}; it has {_list(channels)}")
    return found[0]


def _find_side(channels: Sequence[StreamChannel], side: Side, unit: str | None) -> int:
    mine = [i for i, one in enumerate(channels) if _side(one.label) is side and (unit or _may_be_force(one.unit))]
    for words in _VERTICAL if len(mine) > 1 else ():
        upright = [i for i in mine if _words(channels[i].label) & words]
        if len(upright) == 1:
            return upright[0]
    if len(mine) != 1:
        what = "more than one may be" if mine else "none says that it is"
        raise DeviceError(
            f"which channel is the vertical force under the {side} foot cannot be told: {what}. It has "
            f"{_list(channels)}; name both: ,left=LABEL,right=LABEL"
        )
    return mine[0]


def _may_be_force(unit: str) -> bool:
    """A channel without a unit may be one; that it does not say so is told once it is the only one."""
    return not unit or unit_of(unit) is not None


def _words(label: str) -> set[str]:
    return {word.lower() for word in _TOKENS.findall(label)}


def _side(label: str) -> Side | None:
    named = [side for side, words in _SIDES.items() if _words(label) & words]
    return named[0] if len(named) == 1 else None


def _name(channels: Sequence[StreamChannel], index: int) -> str:
    label = channels[index].label
    return f"{index + 1} ({label})" if label else str(index + 1)


def _list(channels: Sequence[StreamChannel]) -> str:
    names = [f"{_name(channels, i)} in {one.unit or 'no unit'}" for i, one in enumerate(channels[:12])]
    return ", ".join(names) + (f" and {len(channels) - 12} more" if len(channels) > 12 else "")


def say_feet(feet: tuple[Foot, Foot]) -> str:
    """Return which channel is under which foot, for a person to confirm."""
    named = ", ".join(f"{side} is {foot.label} in {foot.unit}" for side, foot in zip(Side, feet, strict=True))
    return f"{named}, load {'negative' if feet[0].newtons < 0 else 'positive'}"
