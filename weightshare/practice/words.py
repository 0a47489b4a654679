"""The words and figures of the practice window. Plain, short, and said to a person who stands three metres away."""

from __future__ import annotations

import math

from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.check import Verdict
from weightshare.practice.message import retell
from weightshare.state import State
from weightshare.task import Goal, Settings
from weightshare.tongue import mark, number, plural, say

LINK_LOST = mark("link lost")
SUPPORTED = mark("part of your weight is elsewhere")
TRYING_OUT = mark("trying out, nothing is counted yet")
NOT_CHECKED = mark("Left and right were not checked.")

CAUTIONS = (
    mark("Have a rail within reach and someone by."),
    mark("Put the plates on a level, hard floor."),
    mark("How much load you may take is for your surgeon to say."),
    mark("Stop on pain."),
    mark("Seek help at once for a sudden snap, a hot swollen calf, new numbness or breathlessness."),
    mark("This is not a certified medical device."),
    mark("The treating clinician and the surgeon's protocol decide."),
)
"""What is said on the first start and in About."""

GO_ON, CHECK_AGAIN, START, NEW = mark("Go on"), mark("Check again"), mark("Start practice"), mark("New session")
NEXT_SET, END_SET = mark("Next set"), mark("End the set")
"""What the big key does."""

ASK_TO_END = mark("End the session? Esc ends it, Space goes on.")
LOST_HEADLINE = mark("The link is lost. Hold the rail, stand at ease.")
REFUSED_HEADLINE = mark("These scales cannot be used as they are.")
NO_CALIBRATION, UNCALIBRATED_HEADLINE = mark("has no calibration"), mark("These scales need a calibration first.")
UNREACHED_HEADLINE = mark("The scales cannot be reached.")
ALARM_SILENT = mark("The sound is off: the alarm for too much load makes none.")
SEATED = mark("seated")
SHIFTING = mark("shifting")
NOT_COUNTED = mark("repetitions cannot be counted on these scales")
LOAD_ONLY = mark("load only, heel not seen")
"""What is said of a raise that is held where no heel's height is measured."""
RECONNECTING = mark("No data are coming. The link is tried again by itself.")

CHECKING = mark("checking left and right")
SKIP_HINT = mark("Key S passes over this check")
ZERO_HINT = mark("F5 takes the zero again")
RETRY_HINT = mark("F5 tries again")
CLASH_HEADLINE = mark("Change the target or the limit of load.")
"""What is asked for before practice where the target is over the ceiling."""
GET_READY_S = 5.0
"""So long before a rest is over one is told to get ready, s (common practice, no source)."""
NO_TARGET = mark("No target was set: there was nothing to hold.")
NEXT_BLIND = mark("The next set is without the screen.")
SET_HINT, FAULT_HINT = mark("Key N ends the set"), mark("Key M marks a fault")
STEER_HINT = mark("Keys \u2190 \u2192 shift the virtual person's weight")


def state_words(state: State) -> str:
    """Return `state` in the words of the screen. Too little on the plates is: part of the weight is elsewhere."""
    return say(SUPPORTED if state is State.ELSEWHERE else state)


def practise_headline(state: State, injured: Side) -> str:
    """Return what to do in `state`, in one line."""
    return {
        State.NOBODY: say("Step on: one foot on each plate."),
        State.AT_BOTTOM: say("Begin when you are ready."),
        State.HEELS_DOWN: say("Raise both heels."),
        State.IN_BAND: say("Good. Stay just there."),
        State.TOO_LITTLE: say("Put more weight on your {injured} foot.", injured=injured),
        State.TOO_MUCH: say("Ease a little weight off your {injured} foot.", injured=injured),
        State.ONE_FOOT_OFF: say("Put both feet on the plates."),
        State.ELSEWHERE: say("Lean on the rail only as much as you need."),
        State.NO_READING: say("Wait: the scales give no reading."),
        State.OVERLOAD: say("Hand on the rail, step off: too much load."),
        State.STANDING: say("Standing. No target is set."),
        State.WEIGHING: say("Stand still on both feet."),
        State.ZEROING: say("Please stay off the plates."),
        State.WAITING: say("One moment: waiting for the scales."),
    }[state]


def hold_done_headline(done: int, asked: int, *, heels_up: bool = False) -> str:
    """Return what is said when hold number `done` has reached its goal; `heels_up`: it was held with the heels up."""
    if done >= asked:
        if heels_up:
            return say("All holds done. Heels down, slowly.")
        return say("All holds done. Ease back to the middle.")
    rest = (
        mark("Hold {done} of {asked} is done. Heels down, slowly, and rest.")
        if heels_up
        else mark("Hold {done} of {asked} is done. Ease back and rest.")
    )
    return say(rest, done=done, asked=asked)


def whole_percent(share: float, settings: Settings) -> str:
    """Return `share` to the nearest whole percent, but never rounded over an edge of the band.

    69.6 beside a band from 70 reads 69, not 70, so that figure and state never contradict each other.
    """
    return f"{_on_its_side(share, settings, 1):.0f}"


def fine_percent(share: float, settings: Settings) -> str:
    """Return `share` to the nearest tenth of a percent, but never rounded over an edge of the band."""
    return number(_on_its_side(share, settings, 10), ".1f")


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
    return f"{number(round(force_N / STANDARD_GRAVITY, 1) + 0.0, '.1f')} kg"


def zero_load(force_N: float) -> str:
    """Say what lies on the scales while the zero is being taken."""
    return say("{load} on the scales now", load=load_kg(force_N))


def body_percent(force_N: float, body_weight_N: float) -> str:
    """Return a load as percent of body weight."""
    return say("{part} % of body weight", part=round(100.0 * force_N / body_weight_N) + 0)


def band_words(settings: Settings) -> str:
    """Return the band as `aim 75, from 70 to 80`, or as kilograms in supported work; empty without one."""
    if settings.load_N is not None:
        aim, tolerance = settings.load_N, settings.load_tolerance_N
        low, high = max(0.0, aim - tolerance) / STANDARD_GRAVITY, (aim + tolerance) / STANDARD_GRAVITY
        rest = (
            say("{low:.1f} kg or more", low=low)
            if settings.one_sided
            else say("from {low:.1f} to {high:.1f} kg", low=low, high=high)
        )
        return say("aim {aim:.1f}, {rest}", aim=aim / STANDARD_GRAVITY, rest=rest)
    band = settings.band_percent
    if band is None:
        return ""
    rest = (
        say("{low:g} or more", low=band[0])
        if settings.one_sided
        else say("from {low:g} to {high:g}", low=band[0], high=band[1])
    )
    return say("aim {target:g}, {rest}", target=settings.target_percent, rest=rest)


def blind_words(number: int, asked: int) -> str:
    """Return which set is done without the screen."""
    return say("set {number} of {asked}, without the screen", number=number, asked=asked)


def stop_headline(reason: str) -> str:
    """Return what is said where a set to exhaustion may stop, and why."""
    return say("You may stop: {reason}.", reason=retell(reason))


def minutes(value_s: float) -> str:
    """Return time left as minutes and seconds, `0:45`: a second that has begun counts."""
    whole = max(0, math.ceil(value_s - 1e-9))
    return f"{whole // 60}:{whole % 60:02d}"


def limit_words(settings: Settings) -> str:
    """Return how much load may be on the injured foot, as a sentence; empty where no ceiling is set."""
    ceiling = settings.ceiling
    if ceiling is None:
        return ""
    limit = (
        say("{percent:g} % of body weight", percent=ceiling.percent)
        if ceiling.kg is None
        else f"{number(ceiling.kg, 'g')} kg"
    )
    return say("No more than {limit} on the {injured} foot.", limit=limit, injured=settings.injured)


def weigh_words(state: State, settings: Settings) -> tuple[str, str]:
    """Return headline and note before and while somebody is weighed.

    Nobody is asked for even standing where a ceiling is set: half of body weight may be more than it allows.
    """
    if settings.ceiling is None or state not in (State.NOBODY, State.WEIGHING):
        return practise_headline(state, settings.injured), ""
    where = (
        mark("Step on, most of your weight on the {other} foot.")
        if state is State.NOBODY
        else mark("Stand still, most of your weight on the {other} foot.")
    )
    return say(where, other=settings.injured.other), say(
        "{limit} Keep a hand by the rail.", limit=limit_words(settings)
    )


def state_headline(state: State, settings: Settings) -> str:
    """Return what to do in `state`, where nothing of a repetition comes first; a ceiling holds for stepping on too."""
    return weigh_words(state, settings)[0]


def check_words(verdict: Verdict, named: Side, limit: str = "", *, seated: bool = False) -> tuple[str, str]:
    """Return headline and note of the check of left and right; `named` is the foot that is asked.

    `limit`: how much the other one may bear. `seated`: it may bear too little for a lean to be told.
    """
    if verdict is Verdict.SETTLING:
        return (
            say("Sit on a chair, feet on the plates.") if seated else say("Stand or sit still for a moment.")
        ), limit
    if verdict is Verdict.SWAPPED:
        note = say(
            "If so, change the two over, then press Space. If you went to the {other}, just press Space.",
            other=named.other,
        )
        return say("The other plate felt it. Are the plates swapped?"), note
    if seated:
        return say("Press lightly with your {named} foot.", named=named), limit
    chair = say("Or sit on a chair and press lightly: {named} foot.", named=named)
    return say("A hand on the rail, lean a little to the {named}.", named=named), f"{chair} {limit}".strip()


def summary_headline(done: int, asked: int, crossings: int = 0) -> str:
    """Return how the session ended, in one line; no praise where the limit of load was passed `crossings` times."""
    if crossings:
        return say("The limit of load was passed {times}. Step off now.", times=times(crossings))
    return (
        say("Well done. Step off when you are ready.")
        if done >= asked
        else say("The session has ended. Step off when ready.")
    )


def ends_set(key: str) -> bool:
    """Tell whether the big key, which says `key`, ends the set that is under way."""
    return key == say(END_SET)


def times(count: int) -> str:
    """Return how often, as `1 time` or `2 times`."""
    return plural("{n} time", "{n} times", count)


def source_words(source: str) -> str:
    """Say in words where `source` is no real person; empty where it is real scales."""
    if source.startswith("rig:"):
        return say("Virtual scales, virtual person: {person}", person=person_of(source) or say("a practiser"))
    return say("A recording, played back") if source.startswith("file:") else ""


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
