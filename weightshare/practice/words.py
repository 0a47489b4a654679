"""The words and figures of the practice window. Plain, short, and said to a person who stands three metres away."""

from __future__ import annotations

import math

from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.check import Verdict
from weightshare.practice.screen import Step
from weightshare.state import State
from weightshare.task import Goal, Settings

LINK_LOST = "link lost"
SUPPORTED = "part of your weight is elsewhere"
TRYING_OUT = "trying out, nothing is counted yet"
NOT_CHECKED = "Left and right were not checked."

CAUTIONS = (
    "Have a rail within reach and someone by.",
    "Put the plates on a level, hard floor.",
    "How much load you may take is for your surgeon to say.",
    "Stop on pain.",
    "Seek help at once for a sudden snap, a hot swollen calf, new numbness or breathlessness.",
    "This is not a certified medical device.",
    "The treating clinician and the surgeon's protocol decide.",
)
"""What is said on the first start and in About."""

GO_ON, CHECK_AGAIN, START, NEW = "Go on", "Check again", "Start practice", "New session"
NEXT_SET, END_SET = "Next set", "End the set"
"""What the big key does."""

ASK_TO_END = "End the session? Esc ends it, Space goes on."
LOST_HEADLINE = "The link is lost. Hold the rail, stand at ease."
REFUSED_HEADLINE = "These scales cannot be used as they are."
NO_CALIBRATION, UNCALIBRATED_HEADLINE = "has no calibration", "These scales need a calibration first."
UNREACHED_HEADLINE = "The scales cannot be reached."
ALARM_SILENT = "The sound is off: the alarm for too much load makes none."
SEATED = "seated"
SHIFTING = "shifting"
NOT_COUNTED = "repetitions cannot be counted on these scales"
LOAD_ONLY = "load only, heel not seen"
"""What is said of a raise that is held where no heel's height is measured."""
RECONNECTING = "No data are coming. The link is tried again by itself."

CHECKING = "checking left and right"
SKIP_HINT = "Key S passes over this check"
ZERO_HINT = "F5 takes the zero again"
RETRY_HINT = "F5 tries again"
CLASH_HEADLINE = "Change the target or the limit of load."
"""What is asked for before practice where the target is over the ceiling."""
GET_READY_S = 5.0
"""So long before a rest is over one is told to get ready, s (common practice, no source)."""
NO_TARGET = "No target was set: there was nothing to hold."
NEXT_BLIND = "The next set is without the screen."
SET_HINT, FAULT_HINT = "Key N ends the set", "Key M marks a fault"
STEER_HINT = "Keys \u2190 \u2192 shift the virtual person's weight"


def state_words(state: State) -> str:
    """Return `state` in the words of the screen. Too little on the plates is: part of the weight is elsewhere."""
    return SUPPORTED if state is State.ELSEWHERE else str(state)


def practise_headline(state: State, injured: Side) -> str:
    """Return what to do in `state`, in one line."""
    return {
        State.NOBODY: "Step on: one foot on each plate.",
        State.AT_BOTTOM: "Begin when you are ready.",
        State.HEELS_DOWN: "Raise both heels.",
        State.IN_BAND: "Good. Stay just there.",
        State.TOO_LITTLE: f"Put more weight on your {injured} foot.",
        State.TOO_MUCH: f"Ease a little weight off your {injured} foot.",
        State.ONE_FOOT_OFF: "Put both feet on the plates.",
        State.ELSEWHERE: "Lean on the rail only as much as you need.",
        State.NO_READING: "Wait: the scales give no reading.",
        State.OVERLOAD: "Hand on the rail, step off: too much load.",
        State.STANDING: "Standing. No target is set.",
        State.WEIGHING: "Stand still on both feet.",
        State.ZEROING: "Please stay off the plates.",
        State.WAITING: "One moment: waiting for the scales.",
    }[state]


def hold_done_headline(done: int, asked: int, *, heels_up: bool = False) -> str:
    """Return what is said when hold number `done` has reached its goal; `heels_up`: it was held with the heels up."""
    if done >= asked:
        return f"All holds done. {'Heels down, slowly.' if heels_up else 'Ease back to the middle.'}"
    return f"Hold {done} of {asked} is done. {'Heels down, slowly,' if heels_up else 'Ease back'} and rest."


def whole_percent(share: float, settings: Settings) -> str:
    """Return `share` to the nearest whole percent, but never rounded over an edge of the band.

    69.6 beside a band from 70 reads 69, not 70, so that figure and state never contradict each other.
    """
    return f"{_on_its_side(share, settings, 1):.0f}"


def fine_percent(share: float, settings: Settings) -> str:
    """Return `share` to the nearest tenth of a percent, but never rounded over an edge of the band."""
    return f"{_on_its_side(share, settings, 10):.1f}"


def _on_its_side(share: float, settings: Settings, steps: int) -> float:
    """Return `share` rounded to one of so many steps a percent, on its own side of the band's edge."""
    nearest = math.floor(share * steps + 0.5) / steps
    if settings.target_percent is None or is_inside(nearest, settings) == is_inside(share, settings):
        return nearest
    other = (math.floor(share * steps) if nearest > share else math.ceil(share * steps)) / steps
    return other if is_inside(other, settings) == is_inside(share, settings) else nearest


def is_inside(share: float, settings: Settings) -> bool:
    """Tell whether `share` (percent) lies in the band, its edges inside; without a target there is none."""
    target, tolerance = settings.target_percent, settings.tolerance_percent
    if target is None:
        return False
    return share - target >= -tolerance if settings.one_sided else abs(share - target) <= tolerance


def seconds(value_s: float) -> str:
    """Return whole seconds, cut and not rounded: a goal is never shown before it is reached."""
    return str(math.floor(value_s))


def load_kg(force_N: float) -> str:
    """Return a load as kilograms with one decimal, by standard gravity; next to nothing is 0.0, without a sign."""
    return f"{round(force_N / STANDARD_GRAVITY, 1) + 0.0:.1f} kg"


def zero_load(force_N: float) -> str:
    """Say what lies on the scales while the zero is being taken."""
    return f"{load_kg(force_N)} on the scales now"


def body_percent(force_N: float, body_weight_N: float) -> str:
    """Return a load as percent of body weight."""
    return f"{round(100.0 * force_N / body_weight_N) + 0} % of body weight"


def band_words(settings: Settings) -> str:
    """Return the band as `aim 75, from 70 to 80`, or as kilograms in supported work; empty without one."""
    if settings.load_N is not None:
        aim, tolerance = settings.load_N, settings.load_tolerance_N
        low, high = max(0.0, aim - tolerance) / STANDARD_GRAVITY, (aim + tolerance) / STANDARD_GRAVITY
        rest = f"{low:.1f} kg or more" if settings.one_sided else f"from {low:.1f} to {high:.1f} kg"
        return f"aim {aim / STANDARD_GRAVITY:.1f}, {rest}"
    band = settings.band_percent
    if band is None:
        return ""
    rest = f"{band[0]:g} or more" if settings.one_sided else f"from {band[0]:g} to {band[1]:g}"
    return f"aim {settings.target_percent:g}, {rest}"


def over_headline(injured: Side) -> str:
    """Return what to do at once where the load is over the ceiling."""
    return f"Less weight on the {injured} foot now."


def over_words(now_N: float | None, most_N: float | None, limit_N: float | None) -> str:
    """Return what happened where the load went over the ceiling, as `now 31.0 kg, at most 70.7 kg, limit 20 kg`."""
    now = "" if now_N is None else f"now {load_kg(now_N)}"
    most = "" if most_N is None else f"at most {load_kg(most_N)}"
    limit = "" if limit_N is None else f"limit {limit_N / STANDARD_GRAVITY:.4g} kg"
    return ", ".join(part for part in (now, most, limit) if part)


def alarm_note(step: Step, *, over: bool = False) -> str:
    """Return what an alarm means at `step`; `over`: the load was read, and is too much."""
    if step is Step.READY:
        return "Practice does not begin while this stands."
    if step is Step.REST:
        return "The next set does not begin while this stands."
    unchecked = over and step in (Step.WEIGH, Step.CHECK)
    return "Left and right are not checked yet: are the plates swapped?" if unchecked else ""


def unread_headline(injured: Side) -> str:
    """Return what to do at once where the load cannot be read, and a ceiling is set for it."""
    return f"Hold the rail. Ease the weight off your {injured} foot."


def unread_words(limit_N: float | None) -> str:
    """Return what happened where a ceiling is set and the load under it cannot be read."""
    limit = "" if limit_N is None else f"; the limit is {load_kg(limit_N)}"
    return f"The load on it cannot be read{limit}."


def blind_words(number: int, asked: int) -> str:
    """Return which set is done without the screen."""
    return f"set {number} of {asked}, without the screen"


def rest_headline(left_s: float, number: int, asked: int, *, next_leg: Side | None = None, paced: bool = False) -> str:
    """Return what to do in a rest with `left_s` to go until set `number` of `asked`.

    The set is open from then on, and waits for the person; where the metronome leads (`paced`) it begins. `next_leg` is
    the one that works alone in it, where the legs take turns.
    """
    if left_s <= GET_READY_S:
        leg = "" if next_leg is None else f", {next_leg} foot"
        return f"Set {number} of {asked}{leg}: get ready."
    leg = "" if next_leg is None else f", on the {next_leg} foot,"
    return f"Rest. Set {number}{leg} {'begins at 0:00' if paced else 'waits for you from 0:00 on'}."


def stop_headline(reason: str) -> str:
    """Return what is said where a set to exhaustion may stop, and why."""
    return f"You may stop: {reason}."


def minutes(value_s: float) -> str:
    """Return time left as minutes and seconds, `0:45`: a second that has begun counts."""
    whole = max(0, math.ceil(value_s - 1e-9))
    return f"{whole // 60}:{whole % 60:02d}"


def limit_words(settings: Settings) -> str:
    """Return how much load may be on the injured foot, as a sentence; empty where no ceiling is set."""
    ceiling = settings.ceiling
    if ceiling is None:
        return ""
    limit = f"{ceiling.percent:g} % of body weight" if ceiling.kg is None else f"{ceiling.kg:g} kg"
    return f"No more than {limit} on the {settings.injured} foot."


def weigh_words(state: State, settings: Settings) -> tuple[str, str]:
    """Return headline and note before and while somebody is weighed.

    Nobody is asked for even standing where a ceiling is set: half of body weight may be more than it allows.
    """
    if settings.ceiling is None or state not in (State.NOBODY, State.WEIGHING):
        return practise_headline(state, settings.injured), ""
    where = f"most of your weight on the {settings.injured.other} foot."
    headline = f"Step on, {where}" if state is State.NOBODY else f"Stand still, {where}"
    return headline, f"{limit_words(settings)} Keep a hand by the rail."


def state_headline(state: State, settings: Settings) -> str:
    """Return what to do in `state`, where nothing of a repetition comes first; a ceiling holds for stepping on too."""
    return weigh_words(state, settings)[0]


def check_words(verdict: Verdict, named: Side, limit: str = "", *, seated: bool = False) -> tuple[str, str]:
    """Return headline and note of the check of left and right; `named` is the foot that is asked.

    `limit`: how much the other one may bear. `seated`: it may bear too little for a lean to be told.
    """
    if verdict is Verdict.SETTLING:
        return ("Sit on a chair, feet on the plates." if seated else "Stand or sit still for a moment."), limit
    if verdict is Verdict.SWAPPED:
        note = f"If so, change the two over, then press Space. If you went to the {named.other}, just press Space."
        return "The other plate felt it. Are the plates swapped?", note
    if seated:
        return f"Press lightly with your {named} foot.", limit
    chair = f"Or sit on a chair and press lightly: {named} foot."
    return f"A hand on the rail, lean a little to the {named}.", f"{chair} {limit}".strip()


def summary_headline(done: int, asked: int, crossings: int = 0) -> str:
    """Return how the session ended, in one line; no praise where the limit of load was passed `crossings` times."""
    if crossings:
        return f"The limit of load was passed {times(crossings)}. Step off now."
    return "Well done. Step off when you are ready." if done >= asked else "The session has ended. Step off when ready."


def times(count: int) -> str:
    """Return how often, as `1 time` or `2 times`."""
    return f"{count} {'time' if count == 1 else 'times'}"


def source_words(source: str) -> str:
    """Say in words where `source` is no real person; empty where it is real scales."""
    if source.startswith("rig:"):
        return f"Virtual scales, virtual person: {person_of(source) or 'a practiser'}"
    return "A recording, played back" if source.startswith("file:") else ""


def person_of(source: str) -> str:
    """Return the virtual person's name in a source such as `rig:steered`; empty where none is named."""
    return source.removeprefix("rig:").partition(",")[0].partition("?")[0] if source.startswith("rig:") else ""


def is_steered(source: str) -> bool:
    """Tell whether the arrow keys move the person on the scales."""
    return person_of(source) == "steered"


def cannot_be_asked(source: str) -> bool:
    """Tell whether whoever stands there hears no request: a virtual person on plates that nobody can swap."""
    return source.startswith("rig:") and not is_steered(source)


def needs_a_new_person(source: str, before: tuple[Settings, Goal], after: tuple[Settings, Goal]) -> bool:
    """Tell whether a virtual person has to start over for what is asked now; a steered one knows only its side."""
    if cannot_be_asked(source):
        return before != after
    return is_steered(source) and before[0].injured is not after[0].injured
