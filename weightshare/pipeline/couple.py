"""Two separate scales as one: their identities, and what is known of their forces, side by side."""

from __future__ import annotations

import math
from dataclasses import replace

from weightshare.errors import ProtocolError
from weightshare.model import Calibration, HeelWorth, Identity, Quantity, Side, SideWorth, Worth


def side_of(identity: Identity) -> Side | None:
    """Return the foot that a scale says it is under; None where it does not say, or says both."""
    sides = {channel.side for channel in identity.channels if channel.quantity is Quantity.FORCE}
    return sides.pop() if len(sides) == 1 else None


def choose_sides(first: Identity, second: Identity) -> tuple[Side, Side]:
    """Return the foot over each of two scales: as they say, else the first is the left one.

    Raises ProtocolError where both say that they are under the same foot.
    """
    told, other = side_of(first), side_of(second)
    if told is not None and told is other:
        raise ProtocolError(
            f"both scales say that they are under the {told} foot; say which is which: "
            "Get started in the window, or --sides left,right (or right,left) with the sources"
        )
    if told is not None:
        return told, told.other
    return (other.other, other) if other is not None else (Side.LEFT, Side.RIGHT)


def require_two(first: Identity, second: Identity) -> None:
    """Raise ProtocolError where two sources bring one and the same scale."""
    if first.device_id == second.device_id:
        raise ProtocolError(f"both sources lead to the same scale, {first.device_id}: give another one for one side")


def couple_identities(first: Identity, second: Identity, sides: tuple[Side, Side]) -> Identity:
    """Return two scales as one: the first's channels under `sides[0]`, then the second's under `sides[1]`.

    Raises ProtocolError where they cannot be a pair: the same scale or side twice, no force in one, both feet in one.
    """
    if sides[0] is sides[1]:
        raise ProtocolError(f"both scales are said to be under the {sides[0]} foot: one has to be under the other")
    require_two(first, second)
    for identity, side in zip((first, second), sides, strict=True):
        _require_force(identity, side)
    channels = [
        replace(channel, side=side)
        for identity, side in zip((first, second), sides, strict=True)
        for channel in identity.channels
    ]
    return replace(
        first,
        device_id=f"{first.device_id}+{second.device_id}",
        rate_Hz=max(first.rate_Hz, second.rate_Hz),
        channels=tuple(channels),
        name=" + ".join(name for name in (first.name, second.name) if name),
    )


def _require_force(identity: Identity, side: Side) -> None:
    forces = [channel for channel in identity.channels if channel.quantity is Quantity.FORCE]
    if not forces:
        raise ProtocolError(f"scale {identity.device_id} has no force channel, so it cannot be under the {side} foot")
    if {Side.LEFT, Side.RIGHT} <= {channel.side for channel in forces}:
        raise ProtocolError(f"scale {identity.device_id} reads both feet by itself: use it alone, as the one source")


def couple_calibrations(
    identities: tuple[Identity, Identity], calibrations: tuple[Calibration, Calibration], sides: tuple[Side, Side]
) -> Calibration:
    """Return the calibrations of two scales as that of the coupled one.

    The worth is None where one of them says none. Masses and gravity may have been others for each, so what the file
    says of them counts as that side's own.
    """
    first, second = calibrations
    shift = len(identities[0].channels)
    channels = [replace(one, made_on=first.made_on_of(one)) for one in first.channels if one.index < shift]
    channels += [replace(one, index=one.index + shift, made_on=second.made_on_of(one)) for one in second.channels]
    ends = [one.valid_until for one in calibrations if one.valid_until is not None]
    return Calibration(
        f"{first.device_id}+{second.device_id}",
        min(first.made_on, second.made_on),
        tuple(channels),
        min(ends) if ends else None,
        first.gravity_m_s2,
        _couple_worth(first.worth, second.worth, sides),
    )


def _couple_worth(first: Worth | None, second: Worth | None, sides: tuple[Side, Side]) -> Worth | None:
    if first is None or second is None:
        return None
    both = [_side_worth(worth, side) for worth, side in zip((first, second), sides, strict=True)]
    assumed = tuple(dict.fromkeys(first.assumed + second.assumed))
    return Worth(tuple(one for one in both if one is not None), 0.0, assumed, _couple_heel(first.heel, second.heel))


def _couple_heel(first: HeelWorth | None, second: HeelWorth | None) -> HeelWorth | None:
    """Return what either heel's height is worth: no less doubt than that of the worse one."""
    if first is None or second is None:
        return None
    return HeelWorth(max(first.height_mm, second.height_mm), max(first.place_part, second.place_part))


def _side_worth(worth: Worth, side: Side) -> SideWorth | None:
    """Return what a scale of one side is worth under `side`, with what its file says both sides have together."""
    told = worth.sides[0] if len(worth.sides) == 1 else next((one for one in worth.sides if one.side is side), None)
    return None if told is None else replace(told, side=side, gain_part=math.hypot(told.gain_part, worth.common_part))
