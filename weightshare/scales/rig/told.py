"""What a virtual scale says of itself: who it is, under which foot it stands, how its battery is."""

from __future__ import annotations

from dataclasses import replace

from weightshare.model import Channel, Identity, Side
from weightshare.scales.rig.catalog import Fault
from weightshare.scales.rig.cell import CHANNELS, COLUMNS, LEFT_ID, PAIR_ID, RIGHT_ID
from weightshare.scales.rig.heel import HEEL_CHANNELS, HEELS_OF
from weightshare.scales.rig.hidden import hidden_id
from weightshare.scales.rig.oscillator import TICK_RATE_HZ
from weightshare.scales.rig.scene import Cast

SIDE_OF: dict[str, Side | None] = {PAIR_ID: None, LEFT_ID: Side.LEFT, RIGHT_ID: Side.RIGHT}
"""Under which foot each virtual scale is; None: under both."""
NAMES = {PAIR_ID: "virtual pair", LEFT_ID: "virtual left", RIGHT_ID: "virtual right"}

FULL_MV, FALL_MV_PER_S = 4050.0, 0.02
"""A lithium cell that was charged yesterday."""
LOW_MV, LOW_FALL_MV_PER_S = 3300.0, 2.0
"""Under this a scale says that its battery is low; one that is nearly empty falls so fast (invented)."""
EMPTY_MV = 3000.0


def tell_identity(device_id: str, cast: Cast, fault: Fault, rate_Hz: float) -> Identity:
    """Return what the scale `device_id` says of itself when it is first switched on."""
    channels = tuple(CHANNELS[column] for column in COLUMNS[device_id])
    if cast.heels.fitted:
        channels += tuple(HEEL_CHANNELS[heel] for heel in HEELS_OF[device_id])
    told = tuple(replace(channel, side=_tell_side(channel, fault)) for channel in channels)
    own_id = hidden_id(device_id, cast.seed) if cast.hidden else device_id
    own_Hz = fault.rate_Hz or rate_Hz
    name = NAMES[device_id]
    return Identity(own_id, (1, 0, 0), 1, TICK_RATE_HZ, own_Hz, told, name, protocol=fault.protocol)


def _tell_side(channel: Channel, fault: Fault) -> Side | None:
    if channel.side is None or fault.told == "none":
        return None
    if fault.told == "same":
        return Side.LEFT
    return channel.side.other if fault.told == "swapped" else channel.side


def battery_mV(device_id: str, fault: Fault, on_s: float) -> int:
    """Return what the battery has after `on_s` s; 0 where there is none, as the scale of both sides has a cable."""
    if fault.battery_mV is not None:
        return round(max(fault.battery_mV - LOW_FALL_MV_PER_S * on_s, EMPTY_MV))
    return 0 if SIDE_OF[device_id] is None else round(max(FULL_MV - FALL_MV_PER_S * on_s, EMPTY_MV))
