"""What the keys of a programme are called in the editor, what each is for, and what may be chosen, in plain words."""

from __future__ import annotations

from weightshare.programme.criterion import ABOUT, Measure
from weightshare.programme.draft import CRITERIA, SOURCES, Spot, keys_of
from weightshare.programme.kind import Kind
from weightshare.programme.stage import Knee, Leg
from weightshare.tongue import mark, say
from weightshare.window.choice import BASES, EXERCISES, SURFACES

Said = dict[str, tuple[str, str]]
"""By the key: what it is called, and what it is for."""

OF_PROGRAMME: Said = {
    "name": (mark("Name"), mark("what the programme is called")),
    "version": (mark("Version"), mark("every session keeps it; what was changed has the next one")),
    "about": (mark("For whom"), mark("one line")),
    "pain_limit": (mark("Pain limit"), mark("for stages that have none of their own; over it, rest and ask")),
    "source": (mark("Source"), mark("where all numbers come from that have no source of their own")),
    SOURCES: (mark("Sources of numbers"), mark("one line each: the key, an equals sign, where its number comes from")),
}
OF_STAGE: Said = {
    "name": (mark("Name"), mark("on the screen and in reports")),
    "key": (mark("Short name"), mark("for commands and files: small letters, digits and hyphens, as in lowering-75")),
    "exercise": (mark("Exercise"), mark("it decides which fields there are below")),
    "surface": (mark("Floor or step"), mark("what the heels are over; a step locks the stage")),
    "below_level": (
        mark("Below level"),
        mark("whether the heels go below the level of standing; that locks the stage"),
    ),
    "knee": (mark("Knees"), mark("told to the patient; no scale sees it")),
    "leg": (mark("Working leg"), mark("the injured one standing alone locks the stage")),
    "note": (mark("Told to the patient"), mark("one line, under what is asked")),
    "target_percent": (mark("Target share"), mark("the injured side's share of the load on the plates")),
    "one_sided": (mark("Two- or one-sided"), mark("whether more than the target is right, too")),
    "tolerance_points": (mark("Tolerance, live"), mark("how far the share may be from the target while practising")),
    "mean_tolerance_points": (
        mark("Tolerance of a mean"),
        mark("for the criteria: 5 points for a target up to 75 %, 2.5 above, unless you set it"),
    ),
    "supported": (mark("With support"), mark("crutches, a frame or a rail carry a part: then a load is the target")),
    "load": (mark("Target load"), mark("on the injured side: 20kg, or 25% of body weight")),
    "load_tolerance_kg": (mark("Tolerance of the load"), mark("how far the load may be from its target")),
    "stand_s": (mark("Warm-up stand"), mark("on both feet, before practice; it begins with weighing")),
    "added_weight_kg": (mark("Added weight"), mark("a pack, a vest")),
    "hold_s": (mark("Hold goal"), mark("how long each hold is to last")),
    "holds": (mark("Holds"), mark("how many")),
    "grace_s": (mark("Grace"), mark("so long a hold may be left without ending it")),
    "sets": (mark("Sets"), mark("how many")),
    "repetitions": (mark("Repetitions"), mark("in each set")),
    "to_exhaustion": (mark("To exhaustion"), mark("as many as can be done; on one leg the legs take turns")),
    "tempo": (mark("Tempo"), mark("seconds up, at the top, down, at the bottom, as in 1-1-3-1")),
    "rest_s": (mark("Rest"), mark("from the end of one set to the next")),
    "blind_sets": (mark("Blind sets"), mark("the numbers of the sets without the screen, as in 2, 3")),
    "basis": (mark("Counted by"), mark("what repetitions and their phases rest on")),
    "reference_height_mm": (
        mark("Height reference"),
        mark("of a full raise; else that of the raises so far"),
    ),
    "ceiling": (mark("Limit of load"), mark("the most on the injured side, 20kg or 25% of body weight: an alarm")),
    "pain_limit": (mark("Pain limit"), mark("the most pain that is tolerated; over it, rest and ask")),
    "days": (mark("Days"), mark("on how many days all of it has to hold")),
    CRITERIA: (mark("Criteria to go on"), mark("what has to hold before the next stage is suggested")),
    SOURCES: (mark("Sources of numbers"), mark("one line each: the key, an equals sign, where its number comes from")),
    "locked": (mark("Locked in any case"), mark("until the clinician frees it, whatever it asks for")),
    "freed": (mark("Freed of"), mark("one-leg, step, below-level or stage, with commas between")),
    "freed_by": (mark("Freed by"), mark("name or initials of the treating clinician")),
    "freed_on": (mark("Freed on"), mark("the day, as in 2026-11-24")),
}
GROUPS = (
    (mark("What is done"), ("name", "key", "exercise", "surface", "below_level", "knee", "leg", "note")),
    (
        mark("How much load"),
        (
            "target_percent", "one_sided", "tolerance_points", "mean_tolerance_points", "supported", "load",
            "load_tolerance_kg", "added_weight_kg",
        ),
    ),
    (
        mark("How much, how fast"),
        (
            "stand_s", "hold_s", "holds", "grace_s", "sets", "repetitions", "to_exhaustion", "tempo", "rest_s",
            "blind_sets", "basis", "reference_height_mm",
        ),
    ),
    (mark("Limits"), ("ceiling", "pain_limit")),
    (mark("Before the next stage"), (CRITERIA, "days", SOURCES)),
    (mark("Locks"), ("locked", "freed", "freed_by", "freed_on")),
)  # fmt: skip
"""The keys of a stage in the order in which somebody thinks of them, under a head each."""
PROGRAMME_GROUPS = ((mark("The programme"), tuple(OF_PROGRAMME)),)

_LEGS = {Leg.INJURED: mark("the injured one"), Leg.UNINJURED: mark("the other one")}
_FLAG = {"true": mark("yes"), "false": mark("no")}
_OPTIONS: dict[str, dict[str, str]] = {
    "exercise": {str(one): words for one, words in EXERCISES.items()},
    "surface": {str(one): words for one, words in SURFACES.items()},
    "basis": {str(one): words for one, words in BASES.items()},
    "leg": {str(one): words for one, words in _LEGS.items()},
    "knee": {str(one): str(one) for one in Knee},
    "one_sided": {
        "true": mark("one-sided: the target or more"),
        "false": mark("two-sided: the target, to both sides"),
    },
}
NOTHING = {
    "knee": mark("as you like"),
    "tempo": mark("own pace"),
    "stand_s": mark("the 3 s of weighing"),
    "basis": BASES[None],
    "reference_height_mm": mark("none"),
    "ceiling": mark("none"),
    "pain_limit": mark("none"),
    "blind_sets": mark("none"),
    "freed": mark("nothing"),
}
"""What holds where nothing is said, and no value does."""
UNITS = {"percent": "%"}


def said_of(spot: Spot) -> tuple[str, str]:
    """Return what the key at `spot` is called, and what it is for with its range and unit, in the language chosen."""
    label, help_ = (OF_PROGRAMME if spot.stage is None else OF_STAGE)[spot.key]
    kind = next((key.kind for key in keys_of(spot.stage) if key.name == spot.key), None)
    parts = [say(help_) if help_ else "", say_span(kind)]
    return say(label), "; ".join(part for part in parts if part)


def say_span(kind: Kind | None) -> str:
    """Return from where to where a number may be, with its unit; empty where it is none."""
    if kind is None or kind.span is None:
        return ""
    low, high, unit = kind.span
    said = say("{low:g} to {high:g}", low=float(low), high=float(high))
    return f"{said} {unit_words(unit)}".strip()


def unit_words(unit: str) -> str:
    """Return a unit as the screen has it."""
    return UNITS.get(unit) or (say(unit) if unit else "")


def say_option(key: str, option: str) -> str:
    """Return what may be chosen under `key`, in words; as it stands in the file where it has none."""
    words = _OPTIONS.get(key, _FLAG).get(option)
    return option if words is None else say(words)


def say_measure(measure: Measure) -> str:
    """Return what a criterion is about, with a capital letter."""
    said = say(ABOUT[measure].words)
    return f"{said[:1].upper()}{said[1:]}"
