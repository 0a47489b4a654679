"""The force streams that are on the network now."""

from __future__ import annotations

from weightshare.errors import DeviceError, OptionError
from weightshare.scales.discovery import Reach
from weightshare.scales.lab.channel import choose_feet, say_feet
from weightshare.scales.lab.library import is_installed, load_library
from weightshare.scales.lab.stream import ANSWER_S, describe, require_steady
from weightshare.scales.lab.wish import Wish

LOOK_S = 0.7
FORCE_KINDS = {"force", "mocap", "forceplate", "grf"}
"""The types that streams of plates give themselves; others are listed where their channels are forces."""


def list_streams(wait_s: float = LOOK_S) -> list[Reach]:
    """Return the streams that can serve as scales, or that say they are forces and cannot, with the reason.

    Looks for `wait_s`; at once, and empty, where the extra `lsl` is not installed.
    """
    if not is_installed():
        return []
    try:
        lsl = load_library()
    except OptionError:
        return []
    found = [_reach(info) for info in lsl.resolve_streams(wait_s)]
    return sorted((reach for reach in found if reach is not None), key=lambda reach: reach.source)


def _reach(info: object) -> Reach | None:
    lsl = load_library()
    try:
        inlet = lsl.StreamInlet(info, recover=False)
        full = inlet.info(timeout=ANSWER_S)
    except (RuntimeError, lsl.util.LostError, lsl.util.TimeoutError):
        return None
    stream = describe(full)
    words, source = "a laboratory's force stream", f"lsl:{stream.name}"
    try:
        require_steady(stream)
        return Reach(source, f"{words}, {stream.rate_Hz:g} Hz", say_feet(choose_feet(stream.channels, Wish(""))))
    except DeviceError as error:
        return Reach(source, words, str(error)) if full.type().lower() in FORCE_KINDS else None
