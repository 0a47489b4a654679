"""The keys of a programme's file: what each means, and what may stand under it."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.exercise import Basis, Exercise, Surface
from weightshare.programme import kind
from weightshare.programme.kind import Kind
from weightshare.programme.stage import Knee, Leg, Lock
from weightshare.task import FULL_RAISE_MM, STAND_S

SCHEMA = "weightshare.programme/1"


@dataclass(frozen=True, slots=True)
class Key:
    """One key, by its name in the file and in the frozen value."""

    name: str
    kind: Kind
    means: str
    needed: bool = False


PROGRAMME_KEYS = (
    Key("name", kind.text(), "what the programme is called", needed=True),
    Key("version", kind.text(), "its version; every session keeps it", needed=True),
    Key("about", kind.text(), "whom it is for"),
    Key("pain_limit", kind.whole(0, 10), "the most pain that is tolerated, where a stage has none of its own"),
    Key("source", kind.text(), "where all numbers come from that have no source of their own"),
)
STAGE_KEYS = (
    Key("key", kind.slug(), "a short name, for the command line", needed=True),
    Key("name", kind.text(), "what it is called on screen and in reports", needed=True),
    Key("exercise", kind.choice(Exercise), "what is done", needed=True),
    Key("note", kind.text(), "what the patient is told, in one line"),
    Key("surface", kind.choice(Surface), "what the heels are over"),
    Key("below_level", kind.flag(), "on a step: whether the heels go below the level of standing"),
    Key("knee", kind.choice(Knee), "how the knees are"),
    Key("leg", kind.choice(Leg), "which leg works in a stage on one leg"),
    Key("target_percent", kind.number(0, 100, "percent"), "the injured side's share of the load on the plates"),
    Key("one_sided", kind.flag(), "whether more than the target is allowed too"),
    Key("tolerance_points", kind.number(0.1, 50, "points"), "how far the live share may be from the target"),
    Key("mean_tolerance_points", kind.number(0.1, 50, "points"), "how far a mean share may be from the target"),
    Key("supported", kind.flag(), "whether crutches, a frame or a rail carry a part: then a load is asked for"),
    Key("load", kind.load(), "supported work: the load on the injured side"),
    Key("load_tolerance_kg", kind.number(0.1, 200, "kg"), "how far it may be from that"),
    Key("grace_s", kind.number(0, 60, "s"), "how long a hold may be left without its end"),
    Key("stand_s", kind.number(*STAND_S, "s"), "the warm-up stand on both feet, which begins with weighing"),
    Key("hold_s", kind.number(1, 3600, "s"), "how long a hold is to last"),
    Key("holds", kind.whole(1, 100), "how many holds"),
    Key("sets", kind.whole(1, 20), "how many sets"),
    Key("repetitions", kind.whole(1, 100), "how many in each set"),
    Key("to_exhaustion", kind.flag(), "whether a set goes on until a stopping rule is met"),
    Key("blind_sets", kind.numbers(1, 20), "the numbers of the sets without the screen"),
    Key("tempo", kind.tempo(), "seconds of each phase"),
    Key("basis", kind.choice(Basis), "what repetitions rest on"),
    Key("rest_s", kind.number(0, 1800, "s"), "from the end of one set to the next"),
    Key("added_weight_kg", kind.number(0, 400, "kg"), "what is carried: a pack, a vest"),
    Key("ceiling", kind.ceiling(), "the most load on the injured side"),
    Key("pain_limit", kind.whole(0, 10), "the most pain that is tolerated in it"),
    Key("reference_height_mm", kind.number(*FULL_RAISE_MM, "mm"), "the height of a full raise"),
    Key("locked", kind.flag(), "whether the clinician has to free it, whatever it asks for"),
    Key("freed", kind.choices(Lock), "what the clinician has freed of it"),
    Key("freed_by", kind.text(), "who freed it"),
    Key("freed_on", kind.day(), "when"),
    Key("days", kind.whole(1, 100), "on how many days the criteria are to be met"),
)
