"""What is said while scales are set up, in plain words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from weightshare.model import Calibration, Condition, Identity, Side
from weightshare.practice.gauge import is_expired
from weightshare.practice.startmeter import PlateSeen, Seen, plates_of
from weightshare.practice.startpress import STILL_N, Feel
from weightshare.practice.startview import StartStep
from weightshare.scales.finder import Found, Sort, Way

DOT = "  \u00b7  "
STRENGTHS = ((-60, 4, "strong"), (-72, 3, "good"), (-84, 2, "weak"), (-200, 1, "very weak"))
"""From so many dBm on, so many bars, and the word for it (common practice, no source)."""
ON_IT_N = 20.0
"""From here on something lies on a plate that should be empty; the same as for the zero of a session."""
RATE_PART = 0.02
"""So far may the rate be off what the scale says, as a part of it."""

FIND_HEADLINE = "Choose your scales"
FIND_WORDS = (
    "Switch the scales on, or plug them in. Whatever is found appears here by itself.",
    "Choose the one that reads both feet, or the two that read one each. Others nearby just stay unchosen.",
)
ADDRESS_HINT = "Enter: look for a scale there   \u00b7   Esc: give up"
LOOKING = "Looking for scales \u2026"
NONE_FOUND = "No scales so far. Are they switched on, and the cable in? The virtual ones are always there, to try it."
FIND_HINT = "\u2191 \u2193 move   \u00b7   Space: choose   \u00b7   B: show its light   \u00b7   Esc: leave"
LOOKING_HINT = "Esc: leave"
SIDES_HINT = (
    "\u2191 \u2193 move   \u00b7   B: show its light   \u00b7   "
    "L, R: tell by hand that it is the left, the right one   \u00b7   Backspace: back   \u00b7   Esc: leave"
)
VIRTUAL_HINT = "\u2190 \u2192 press with a virtual foot   \u00b7   "
CHECK_HINT = "\u2191 \u2193 move   \u00b7   C: calibrate this one   \u00b7   Backspace: back   \u00b7   Esc: leave"
PLACE_HINT = "Tab: the fields   \u00b7   Backspace: back   \u00b7   Esc: leave"
READY_HINT = "\u2191 \u2193 move   \u00b7   C: calibrate this one   \u00b7   Backspace: back   \u00b7   Esc: leave"
GO_ON, PRACTISE = "Go on  (Enter)", "Practise  (Enter)"

SIT = "Sit on a chair in front of the scales, both feet on the floor beside them."
PRESS = "Now press lightly with the left foot"
PRESS_WORDS = "Set only the left foot on its plate, and lift it again. Stay on the chair."
BOTH_UP = "Both plates felt something. Take both feet off, wait a moment, then press with the left foot alone."
RESTLESS = "Both feet off the plates, please"
RESTLESS_WORDS = "Nothing may touch the plates for a second; then the left foot is asked for."
SWAPPED = "The right plate felt the left foot: the plates lie the wrong way round"
SWAPPED_WORDS = (
    "Let the two plates change places, or turn the board round. Take both feet off, then press with the left again."
)
SAME_SIDE = "Both scales say that they are the {side} one. That does no harm: the press decides."
RENAMED = "It calls itself the {said} one; from now on it is used as the {side} one."
BY_HAND = "Told by hand, not by a press."

CHECK_HEADLINE = "How the scales are"
CHECK_WORDS = ("Nobody on the plates, please. The noise is that of single readings over one second, not filtered.",)
ALL_WELL = "Everything is well"

PLACE_HEADLINE = "Where everything stands"
PLACEMENT = (
    "A hard, level floor; no carpet under the plates.",
    "The plates side by side, 30 mm or more apart; they touch nothing.",
    "A rail or a heavy table within reach, a chair close by.",
    "The toes against the toe stop: the same place each day.",
    "Height sensors, where there are any, right under the heels.",
    "The screen straight ahead, at the height of the eyes.",
    "The same shoes each time, or bare feet each time.",
)
WORN = "Kept with each session, where you tell it:"
READY_HEADLINE = "Ready"
READY_WORDS = (
    "Stay off the plates until you are asked to step on: the zero is taken first.",
    "Next time these scales are found by themselves.",
)
KNOWN_HEADLINE = "Your scales are ready"
KNOWN_WORDS = ("They were found again, each under its foot. Stay off the plates until you are asked to step on.",)
KNOWN_LOOKING = "Looking for your scales \u2026"
KNOWN_LOOKING_WORDS = ("Switch them on, or plug them in.",)
KNOWN_STRAIGHT_WORDS = ("Switch them on, or plug them in. Practice opens by itself as soon as they are found.",)
LINK_LOST = "the link is lost: how it is cannot be seen"
KNOWN_FOUND, LOOKED_FOR = "found", "looking \u2026"
NOT_YET = {
    Way.AIR: "not heard yet: is it switched on, charged and near?",
    Way.CABLE: "not found yet: is it switched on, and its cable in?",
    Way.NETWORK: "does not answer yet: is it switched on, and on the network?",
}
SHINING = "its light is on now"
CHOOSE_TO_BLINK = "Choose it first (Space); then B shows its light."
NO_ADDRESS = "That is no address of a scale. One looks like 192.168.0.20:7000, a port like serial:COM3."
WHY_NOT = {
    StartStep.FIND: "First choose the scale that reads both feet, or one for each foot (Space), and let it connect.",
    StartStep.SIDES: "First press lightly with the left foot, or tell by hand which one is the left (L).",
    StartStep.CHECK: "Practice needs scales that send and are calibrated: C calibrates the one that is marked.",
    StartStep.READY: "Practice needs scales that send and are calibrated: C calibrates the one that is marked.",
}
"""Why the step cannot be left yet."""
VIRTUAL_WORDS = ("These are virtual scales, to try it: nothing is remembered of them.",)


def signal_of(dBm: int | None) -> tuple[int | None, str]:
    """Return how many bars a signal has, and its word; None and nothing where there is none."""
    if dBm is None:
        return None, ""
    bars, word = next((bars, word) for least, bars, word in STRENGTHS if dBm >= least or bars == 1)
    return bars, f"signal {word}"


def way_of(source: str) -> Way:
    """Return how the scale at `source` is reached."""
    return {"ble": Way.AIR, "tcp": Way.NETWORK, "rig": Way.INSIDE}.get(source.partition(":")[0], Way.CABLE)


def way_words(found: Found) -> str:
    """Return how it is reached, with the port where it has one."""
    place = found.source.partition(":")[2].lstrip("/") if found.way is Way.NETWORK else found.source.partition(":")[2]
    said = [str(found.way), signal_of(found.signal_dBm)[1]]
    if found.way in (Way.CABLE, Way.NETWORK):
        said = [f"{found.way}, {place}"]
    return DOT.join(part for part in said if part)


def kind_words(found: Found, identity: Identity | None) -> str:
    """Return what it can do."""
    if found.sort is Sort.SETTLED:
        return "store-bought: shows a weight once it has settled; it cannot time a hold"
    if found.sort is Sort.VIRTUAL:
        return "nothing real: to try the program before you own a scale"
    if found.sort is Sort.NONE:
        return found.said
    identity = identity or found.identity
    if identity is None:
        return "a scale for one foot or both: choose it to see"
    sides = [side for side, _under in plates_of(identity)]
    return (
        "reads both feet"
        if len(sides) > 1
        else f"reads one foot ({sides[0]})"
        if sides and sides[0]
        else "reads one foot"
    )


def unwanted_words(found: Found) -> str:
    """Return why it cannot be chosen here, and what can be done with it."""
    if found.sort is Sort.SETTLED:
        return f"It shows settled readings only. To see them: Esc, and in the bar Source {found.source}."
    return f"It cannot be used so: {found.said}"


def battery_words(seen: Seen) -> str:
    """Return how the battery is; empty before it has told."""
    if seen.battery_mV is None:
        return ""
    if not seen.battery_mV:
        return "powered by its cable"
    low = ": low, charge it soon" if seen.faults & Condition.BATTERY_LOW else ""
    return f"battery {seen.battery_mV / 1000.0:.1f} V{low}"


def fault_words(seen: Seen) -> str:
    """Return what the scale itself says is wrong, with the remedy; empty for nothing."""
    said = {
        Condition.CELL_SILENT: "a cell does not answer: check its plug inside the scale",
        Condition.OVERLOAD: "a cell is overloaded: take everything off",
        Condition.BATTERY_LOW: "the battery is low: charge it",
        Condition.BUFFER_OVERRAN: "the scale could not send everything: move it nearer, or use the cable",
    }
    return DOT.join(words for bit, words in said.items() if seen.faults & bit)


def noise_words(plate: PlateSeen) -> tuple[bool, str]:
    """Return whether the noise is well, and how large it is; nobody may be on the plate."""
    if plate.level is None or plate.sd is None:
        return False, "no full second of readings yet"
    if not plate.in_newtons:
        return True, "noise not known in newtons: it takes a calibration"
    if abs(plate.level) > ON_IT_N:
        return False, f"{plate.level:.0f} N lie on it: take everything off, or calibrate anew if nothing is there"
    if plate.sd > STILL_N:
        return False, f"not still: {plate.sd:.1f} N of noise; does something touch it, or the other plate?"
    return True, f"noise {plate.sd:.2f} N"


def rate_words(seen: Seen) -> tuple[bool, str]:
    """Return whether samples come as often as the scale says, and how often they do."""
    if seen.rate_Hz is None or not seen.told_rate_Hz:
        return False, "counting its samples \u2026"
    well = abs(seen.rate_Hz - seen.told_rate_Hz) <= RATE_PART * seen.told_rate_Hz
    told = f"{seen.rate_Hz:.1f} samples a second"
    asked = f"the scale says {seen.told_rate_Hz:g}"
    return well, f"{told} ({asked})" if well else f"{told}, but {asked}: move it nearer, or use another socket"


def calibration_words(calibration: Calibration | None, trouble: str, today: date) -> tuple[bool, bool, str]:
    """Return whether one may practise by it, whether it is well, and how it stands."""
    if calibration is None:
        return False, False, trouble or "not calibrated yet, and practice needs it: C, with known masses"
    if is_expired(calibration, today):
        return True, False, f"calibration was valid until {calibration.valid_until}: calibrate anew (C)"
    until = f", valid until {calibration.valid_until}" if calibration.valid_until else ""
    return True, True, f"calibrated {calibration.made_on}{until}"


def press_words(feel: Feel) -> tuple[str, str]:
    """Return headline and words while a press is awaited."""
    if feel is Feel.RESTLESS:
        return RESTLESS, RESTLESS_WORDS
    return (RESTLESS, BOTH_UP) if feel is Feel.BOTH else (PRESS, PRESS_WORDS)


def count_words(plates: int, scales: int) -> str:
    """Return why what was chosen is no pair, with the remedy; empty where it is one, or nothing was chosen."""
    if scales == 1 and plates == 1:
        return "This one reads one foot: choose the scale of the other foot as well."
    if scales == 2 and plates > 2:
        return "One of these reads both feet: choose that one alone, or two that read one foot each."
    return ""


def no_air(trouble: str) -> str:
    """Return why nothing is found by Bluetooth, as a sentence; empty where it could be."""
    return f"Nothing can be found by Bluetooth: {trouble.rstrip('.')}." if trouble else ""


def passed_over(found: Sequence[Found]) -> str:
    """Return on which ports no scale answers, in one line; empty for none."""
    silent = [one.source.partition(":")[2] for one in found if one.sort is Sort.NONE and one.said == "no scale answers"]
    if not silent:
        return ""
    named = ", ".join(silent[:3]) + (", \u2026" if len(silent) > 3 else "")
    return f"No scale answers on {named}."


def side_title(side: Side, name: str) -> str:
    """Return whose foot it is for, and what it is called."""
    return f"{side.capitalize()}: {name}" if name else side.capitalize()
