"""What is said while scales are set up, in plain words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from weightshare.model import Calibration, Condition, Identity, Side
from weightshare.practice.gauge import is_expired
from weightshare.practice.message import retell
from weightshare.practice.startmeter import PlateSeen, Seen, plates_of
from weightshare.practice.startpress import STILL_N, Feel
from weightshare.practice.startview import StartStep
from weightshare.scales.finder import Found, Sort, Way
from weightshare.tongue import mark, say

DOT = "  \u00b7  "
STRENGTHS = (
    (-60, 4, mark("signal strong")),
    (-72, 3, mark("signal good")),
    (-84, 2, mark("signal weak")),
    (-200, 1, mark("signal very weak")),
)
"""From so many dBm on, so many bars, and the word for it (common practice, no source)."""
ON_IT_N = 20.0
"""From here on something lies on a plate that should be empty; the same as for the zero of a session."""
RATE_PART = 0.02
"""So far may the rate be off what the scale says, as a part of it."""

FIND_HEADLINE = mark("Choose your scales")
FIND_WORDS = (
    mark("Switch the scales on, or plug them in. Whatever is found appears here by itself."),
    mark("Choose the one that reads both feet, or the two that read one each. Others nearby just stay unchosen."),
)
ADDRESS_HINT = mark("Enter: look for a scale there   \u00b7   Esc: give up")
LOOKING = mark("Looking for scales \u2026")
NONE_FOUND = mark(
    "No scales so far. Are they switched on, and the cable in? The virtual ones are always there, to try it."
)
FIND_HINT = mark("\u2191 \u2193 move   \u00b7   Space: choose   \u00b7   B: show its light   \u00b7   Esc: leave")
LOOKING_HINT = mark("Esc: leave")
SIDES_HINT = mark(
    "\u2191 \u2193 move   \u00b7   B: show its light   \u00b7   "
    "L, R: tell by hand that it is the left, the right one   \u00b7   Backspace: back   \u00b7   Esc: leave"
)
VIRTUAL_HINT = mark("\u2190 \u2192 press with a virtual foot   \u00b7   ")
CHECK_HINT = mark(
    "\u2191 \u2193 move   \u00b7   C: calibrate this one   \u00b7   Backspace: back   \u00b7   Esc: leave"
)
PLACE_HINT = mark("Tab: the fields   \u00b7   Backspace: back   \u00b7   Esc: leave")
READY_HINT = mark(
    "\u2191 \u2193 move   \u00b7   C: calibrate this one   \u00b7   Backspace: back   \u00b7   Esc: leave"
)
GO_ON, PRACTISE = mark("Go on  (Enter)"), mark("Practise  (Enter)")

SIT = mark("Sit on a chair in front of the scales, both feet on the floor beside them.")
PRESS = mark("Now press lightly with the left foot")
PRESS_WORDS = mark("Set only the left foot on its plate, and lift it again. Stay on the chair.")
BOTH_UP = mark("Both plates felt something. Take both feet off, wait a moment, then press with the left foot alone.")
RESTLESS = mark("Both feet off the plates, please")
RESTLESS_WORDS = mark("Nothing may touch the plates for a second; then the left foot is asked for.")
SWAPPED = mark("The right plate felt the left foot: the plates lie the wrong way round")
SWAPPED_WORDS = mark(
    "Let the two plates change places, or turn the board round. Take both feet off, then press with the left again."
)
SAME_SIDE = mark("Both scales say that they are the {side} one. That does no harm: the press decides.")
RENAMED = mark("It calls itself the {said} one; from now on it is used as the {side} one.")
BY_HAND = mark("Told by hand, not by a press.")

CHECK_HEADLINE = mark("How the scales are")
CHECK_WORDS = (
    mark("Nobody on the plates, please. The noise is that of single readings over one second, not filtered."),
)
ALL_WELL = mark("Everything is well")

PLACE_HEADLINE = mark("Where everything stands")
PLACEMENT = (
    mark("A hard, level floor; no carpet under the plates."),
    mark("The plates side by side, 30 mm or more apart; they touch nothing."),
    mark("A rail or a heavy table within reach, a chair close by."),
    mark("The toes against the toe stop: the same place each day."),
    mark("Height sensors, where there are any, right under the heels."),
    mark("The screen straight ahead, at the height of the eyes."),
    mark("The same shoes each time, or bare feet each time."),
)
WORN = mark("Kept with each session, where you tell it:")
READY_HEADLINE = mark("Ready")
READY_WORDS = (
    mark("Stay off the plates until you are asked to step on: the zero is taken first."),
    mark("Next time these scales are found by themselves."),
)
KNOWN_HEADLINE = mark("Your scales are ready")
KNOWN_WORDS = (mark("They were found again, each under its foot. Stay off the plates until you are asked to step on."),)
KNOWN_LOOKING = mark("Looking for your scales \u2026")
KNOWN_LOOKING_WORDS = (mark("Switch them on, or plug them in."),)
KNOWN_STRAIGHT_WORDS = (mark("Switch them on, or plug them in. Practice opens by itself as soon as they are found."),)
LINK_LOST = mark("the link is lost: how it is cannot be seen")
KNOWN_FOUND, LOOKED_FOR = mark("found"), mark("looking \u2026")
NOT_YET = {
    Way.AIR: mark("not heard yet: is it switched on, charged and near?"),
    Way.CABLE: mark("not found yet: is it switched on, and its cable in?"),
    Way.NETWORK: mark("does not answer yet: is it switched on, and on the network?"),
}
SHINING = mark("its light is on now")
CHOOSE_TO_BLINK = mark("Choose it first (Space); then B shows its light.")
NO_ADDRESS = mark("That is no address of a scale. One looks like 192.168.0.20:7000, a port like serial:COM3.")
WHY_NOT = {
    StartStep.FIND: mark(
        "First choose the scale that reads both feet, or one for each foot (Space), and let it connect."
    ),
    StartStep.SIDES: mark("First press lightly with the left foot, or tell by hand which one is the left (L)."),
    StartStep.CHECK: mark("Practice needs scales that send and are calibrated: C calibrates the one that is marked."),
    StartStep.READY: mark("Practice needs scales that send and are calibrated: C calibrates the one that is marked."),
}
"""Why the step cannot be left yet."""
_NOT_YET_PATIENT = mark("Practice needs scales that send and are calibrated. Ask your clinician to calibrate them.")
PATIENT_HINT = mark("\u2191 \u2193 move   \u00b7   Backspace: back   \u00b7   Esc: leave")


def why_not(step: StartStep, *, is_patients: bool) -> str:
    """Return why a step cannot be left yet; a patient calibrates nothing."""
    calibrates = step in (StartStep.CHECK, StartStep.READY)
    return _NOT_YET_PATIENT if is_patients and calibrates else WHY_NOT.get(step, "")


VIRTUAL_WORDS = (mark("These are virtual scales, to try it: nothing is remembered of them."),)


def signal_of(dBm: int | None) -> tuple[int | None, str]:
    """Return how many bars a signal has, and its word; None and nothing where there is none."""
    if dBm is None:
        return None, ""
    bars, word = next((bars, word) for least, bars, word in STRENGTHS if dBm >= least or bars == 1)
    return bars, say(word)


def way_of(source: str) -> Way:
    """Return how the scale at `source` is reached."""
    return {"ble": Way.AIR, "tcp": Way.NETWORK, "rig": Way.INSIDE}.get(source.partition(":")[0], Way.CABLE)


def way_words(found: Found) -> str:
    """Return how it is reached, with the port where it has one."""
    place = found.source.partition(":")[2].lstrip("/") if found.way is Way.NETWORK else found.source.partition(":")[2]
    said = [say(found.way), signal_of(found.signal_dBm)[1]]
    if found.way in (Way.CABLE, Way.NETWORK):
        said = [f"{say(found.way)}, {place}"]
    return DOT.join(part for part in said if part)


def kind_words(found: Found, identity: Identity | None) -> str:
    """Return what it can do."""
    if found.sort is Sort.SETTLED:
        return say("store-bought: shows a weight once it has settled; it cannot time a hold")
    if found.sort is Sort.VIRTUAL:
        return say("nothing real: to try the program before you own a scale")
    if found.sort is Sort.NONE:
        return retell(found.said)
    identity = identity or found.identity
    if identity is None:
        return say("a scale for one foot or both: choose it to see")
    sides = [side for side, _under in plates_of(identity)]
    return (
        say("reads both feet")
        if len(sides) > 1
        else say("reads one foot ({side})", side=say(sides[0]))
        if sides and sides[0]
        else say("reads one foot")
    )


def unwanted_words(found: Found) -> str:
    """Return why it cannot be chosen here, and what can be done with it."""
    if found.sort is Sort.SETTLED:
        return say(
            "It shows settled readings only. To see them: Esc, and in the bar Source {source}.", source=found.source
        )
    return say("It cannot be used so: {said}", said=retell(found.said))


def battery_words(seen: Seen) -> str:
    """Return how the battery is; empty before it has told."""
    if seen.battery_mV is None:
        return ""
    if not seen.battery_mV:
        return say("powered by its cable")
    low = say(": low, charge it soon") if seen.faults & Condition.BATTERY_LOW else ""
    return say("battery {battery:.1f} V{low}", battery=seen.battery_mV / 1000.0, low=low)


def fault_words(seen: Seen) -> str:
    """Return what the scale itself says is wrong, with the remedy; empty for nothing."""
    said = {
        Condition.CELL_SILENT: say("a cell does not answer: check its plug inside the scale"),
        Condition.OVERLOAD: say("a cell is overloaded: take everything off"),
        Condition.BATTERY_LOW: say("the battery is low: charge it"),
        Condition.BUFFER_OVERRAN: say("the scale could not send everything: move it nearer, or use the cable"),
    }
    return DOT.join(words for bit, words in said.items() if seen.faults & bit)


def noise_words(plate: PlateSeen) -> tuple[bool, str]:
    """Return whether the noise is well, and how large it is; nobody may be on the plate."""
    if plate.level is None or plate.sd is None:
        return False, say("no full second of readings yet")
    if not plate.in_newtons:
        return True, say("noise not known in newtons: it takes a calibration")
    if abs(plate.level) > ON_IT_N:
        return False, say(
            "{level:.0f} N lie on it: take everything off, or calibrate anew if nothing is there", level=plate.level
        )
    if plate.sd > STILL_N:
        return False, say("not still: {sd:.1f} N of noise; does something touch it, or the other plate?", sd=plate.sd)
    return True, say("noise {sd:.2f} N", sd=plate.sd)


def rate_words(seen: Seen) -> tuple[bool, str]:
    """Return whether samples come as often as the scale says, and how often they do."""
    if seen.rate_Hz is None or not seen.told_rate_Hz:
        return False, say("counting its samples \u2026")
    well = abs(seen.rate_Hz - seen.told_rate_Hz) <= RATE_PART * seen.told_rate_Hz
    told = say("{rate:.1f} samples a second", rate=seen.rate_Hz)
    asked = say("the scale says {rate:g}", rate=seen.told_rate_Hz)
    if well:
        return True, f"{told} ({asked})"
    if seen.rate_Hz > seen.told_rate_Hz:
        # more than were taken cannot come: they waited, and then came at once
        busy = mark("{told}, but {asked}: was this computer busy? Close other programs, and wait 10 s")
        return False, say(busy, told=told, asked=asked)
    return False, say("{told}, but {asked}: move it nearer, or use another socket", told=told, asked=asked)


def calibration_words(
    calibration: Calibration | None, trouble: str, today: date, *, is_patients: bool = False
) -> tuple[bool, bool, str]:
    """Return whether one may practise by it, whether it is well, and how it stands; a patient is sent to ask."""
    if calibration is None:
        needed = say("not calibrated yet, and practice needs it: C, with known masses")
        asking = say("not calibrated yet, and practice needs it: ask your clinician")
        return False, False, retell(trouble) or (asking if is_patients else needed)
    if is_expired(calibration, today):
        day = calibration.valid_until
        anew = say("calibration was valid until {valid_until}: calibrate anew (C)", valid_until=day)
        asking = say("calibration was valid until {valid_until}: tell your clinician", valid_until=day)
        return True, False, asking if is_patients else anew
    until = say(", valid until {valid_until}", valid_until=calibration.valid_until) if calibration.valid_until else ""
    return True, True, say("calibrated {made_on}{until}", made_on=calibration.made_on, until=until)


def press_words(feel: Feel) -> tuple[str, str]:
    """Return headline and words while a press is awaited."""
    if feel is Feel.RESTLESS:
        return say(RESTLESS), say(RESTLESS_WORDS)
    return (say(RESTLESS), say(BOTH_UP)) if feel is Feel.BOTH else (say(PRESS), say(PRESS_WORDS))


def count_words(plates: int, scales: int) -> str:
    """Return why what was chosen is no pair, with the remedy; empty where it is one, or nothing was chosen."""
    if scales == 1 and plates == 1:
        return say("This one reads one foot: choose the scale of the other foot as well.")
    if scales == 2 and plates > 2:
        return say("One of these reads both feet: choose that one alone, or two that read one foot each.")
    return ""


def no_air(trouble: str) -> str:
    """Return why nothing is found by Bluetooth, as a sentence; empty where it could be."""
    return say("Nothing can be found by Bluetooth: {trouble}.", trouble=retell(trouble).rstrip(".")) if trouble else ""


def passed_over(found: Sequence[Found]) -> str:
    """Return on which ports no scale answers, in one line; empty for none."""
    silent = [one.source.partition(":")[2] for one in found if one.sort is Sort.NONE and one.said == "no scale answers"]
    if not silent:
        return ""
    named = ", ".join(silent[:3]) + (", \u2026" if len(silent) > 3 else "")
    return say("No scale answers on {named}.", named=named)


def side_title(side: Side, name: str) -> str:
    """Return whose foot it is for, and what it is called."""
    title = say("Left") if side is Side.LEFT else say("Right")
    return f"{title}: {name}" if name else title
