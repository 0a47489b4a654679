"""What was set by hand beside a prescription, in words: a session keeps it as an option or a setting. No Qt."""

from __future__ import annotations

import re

from weightshare.tongue import mark, say

_CHANGE = re.compile(r"(?:--)?([a-z_-]+) (.+?)(?:, not (.+))?", re.IGNORECASE)
_NAMES = {
    "target": (mark("target"), " %"),
    "target-percent": (mark("target"), " %"),
    "tolerance": (mark("tolerance"), " %"),
    "tolerance-percent": (mark("tolerance"), " %"),
    "ceiling": (mark("limit of load"), ""),
    "load": (mark("load asked for"), ""),
    "hold-goal": (mark("length of a hold"), " s"),
    "hold-s": (mark("length of a hold"), " s"),
    "holds": (mark("holds"), ""),
    "sets": (mark("sets"), ""),
    "repetitions": (mark("repetitions"), ""),
    "rest": (mark("rest between sets"), " s"),
    "rest-s": (mark("rest between sets"), " s"),
    "tempo": (mark("tempo"), " s"),
    "blind-sets": (mark("sets without the screen"), ""),
}
"""By the option of the command, or the setting of the window, that it is kept as: what it is called, and its unit."""
_OF_WEIGHT = re.compile(r"([\d.]+)%")
_IN_KG = re.compile(r"([\d.]+)kg")


def say_by_hand(change: str) -> str:
    """Return `change`, one line of a prescription's `changed`, in words; what is not known is told as it was kept."""
    found = _CHANGE.fullmatch(change)
    if found is None or (key := found[1].replace("_", "-")) not in _NAMES:
        return say("by hand: {what}", what=change)
    name, unit = _NAMES[key]
    value, before = _value(found[2], unit), _value(found[3], unit)
    if not before:
        return say("{name} by hand: {value}", name=say(name), value=value)
    return say("{name} by hand: {value}, not {before}", name=say(name), value=value, before=before)


def _value(kept: str | None, unit: str) -> str:
    if not kept:
        return ""
    if kept == "none":
        return say("none")
    if of_weight := _OF_WEIGHT.fullmatch(kept):
        return say("{percent:g} % of body weight", percent=float(of_weight[1]))
    in_kg = _IN_KG.fullmatch(kept)
    return say("{kg:g} kg", kg=float(in_kg[1])) if in_kg else f"{kept}{unit}"
