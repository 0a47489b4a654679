"""The virtual pair of scales: people, cells, links, the protocol's scale side, and what really happened."""

from weightshare.scales.rig.cell import known_calibration, rig_calibration
from weightshare.scales.rig.local import Clock, HostClock, RigTransport, StepClock, rig_pair, rig_transport

__all__ = [
    "Clock",
    "HostClock",
    "RigTransport",
    "StepClock",
    "known_calibration",
    "rig_calibration",
    "rig_pair",
    "rig_transport",
]
