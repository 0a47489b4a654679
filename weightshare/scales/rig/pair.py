"""The virtual scales, ready to be spoken to: one with both sides, or a left and a right one under one person."""

from __future__ import annotations

from weightshare.scales.rig.carrier import Carrier, draw_drift
from weightshare.scales.rig.cell import LEFT_ID, PAIR_ID, RIGHT_ID
from weightshare.scales.rig.link import Station
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Scene
from weightshare.scales.rig.told import SIDE_OF


def make_stations(scene: Scene, carrier: Carrier, rate_Hz: float, now_ns: int, *, separate: bool) -> list[Station]:
    """Return the scale with both sides, or where `separate` the left and the right one; switched on at `now_ns`.

    All look at `scene`; each has its own oscillator and its own link of the kind `carrier`, by the scene's seed.
    """
    device_ids = (LEFT_ID, RIGHT_ID) if separate else (PAIR_ID,)
    return [_make_station(scene, carrier, rate_Hz, now_ns, device_id) for device_id in device_ids]


def _make_station(scene: Scene, carrier: Carrier, rate_Hz: float, now_ns: int, device_id: str) -> Station:
    drift_ppm, start_tick = draw_drift(carrier, scene.cast.seed, SIDE_OF[device_id])
    scale = VirtualScale(
        scene, device_id, power_on_ns=now_ns, start_tick=start_tick, drift_ppm=drift_ppm, rate_Hz=rate_Hz
    )
    return Station(scene, scale, carrier)
