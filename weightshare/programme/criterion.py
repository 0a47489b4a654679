"""What has to hold before the next stage: one measure and its limits. Frozen values."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from weightshare.programme.kind import shown


class Measure(StrEnum):
    """What a criterion is about, by the keys of a programme's file."""

    LONGEST_HOLD = "longest-hold"
    HOLDS_DONE = "holds-done"
    SHARE_HELD = "share-held"
    LOAD_HELD = "load-held"
    SETS_DONE = "sets-done"
    REPETITIONS = "repetitions"
    SHARE_LOWERING = "share-lowering"
    SHARE_UPPER_THIRD = "share-upper-third"
    SHARE_MIDDLE_THIRD = "share-middle-third"
    SHARE_LOWER_THIRD = "share-lower-third"
    SHARE_BLIND = "share-blind"
    SHARE_FADE = "share-fade"
    LOWERING_IN_BAND = "lowering-in-band"
    LOWERING_TIME = "lowering-time"
    HEIGHT_INDEX = "height-index"
    HEIGHT_FADE = "height-fade"
    REPETITIONS_INDEX = "repetitions-index"
    WORK_INDEX = "work-index"
    OVER_CEILING = "over-ceiling"
    SUPPORTED = "supported"
    PAIN_BEFORE = "pain-before"
    PAIN_DURING = "pain-during"
    PAIN_AFTER = "pain-after"
    PAIN_NEXT_MORNING = "pain-next-morning"
    EFFORT = "effort"
    CLINICIAN = "clinician"


class Kind(StrEnum):
    """In which stages a measure can be had."""

    ANY = "any stage"
    HELD = "a stage that is held"
    HELD_SHARE = "a stage that is held, without support"
    LOAD = "a supported stage"
    REPEATED = "a stage of repetitions"
    BLIND = "a stage with blind sets"
    RAISE = "a stage of heel raises"
    EXHAUSTION = "a stage on one leg to exhaustion"
    CEILING = "a stage with a ceiling"


class About(NamedTuple):
    """What a measure is: in words, its unit, its range, and in which stages it can be had."""

    words: str
    unit: str
    low: float
    high: float
    kind: Kind


_PAIN = "of 10"
ABOUT = {
    Measure.LONGEST_HOLD: About("longest hold", "s", 1.0, 3600.0, Kind.HELD),
    Measure.HOLDS_DONE: About("holds that reached their goal", "", 1.0, 100.0, Kind.HELD),
    Measure.SHARE_HELD: About("mean share while held", "%", 0.0, 100.0, Kind.HELD_SHARE),
    Measure.LOAD_HELD: About("mean load while held", "kg", 0.0, 400.0, Kind.LOAD),
    Measure.SETS_DONE: About("sets done with all repetitions", "", 1.0, 20.0, Kind.REPEATED),
    Measure.REPETITIONS: About("repetitions that count", "", 1.0, 2000.0, Kind.REPEATED),
    Measure.SHARE_LOWERING: About("mean share in the lowering, each set", "%", 0.0, 100.0, Kind.REPEATED),
    Measure.SHARE_UPPER_THIRD: About("mean share in the upper third of the way down", "%", 0.0, 100.0, Kind.REPEATED),
    Measure.SHARE_MIDDLE_THIRD: About("mean share in the middle third of the way down", "%", 0.0, 100.0, Kind.REPEATED),
    Measure.SHARE_LOWER_THIRD: About("mean share in the lower third of the way down", "%", 0.0, 100.0, Kind.REPEATED),
    Measure.SHARE_BLIND: About("mean share in the lowering, blind sets", "%", 0.0, 100.0, Kind.BLIND),
    Measure.SHARE_FADE: About("fall of the share within a set", "points", 0.0, 100.0, Kind.REPEATED),
    Measure.LOWERING_IN_BAND: About("time of the lowering in the band", "%", 0.0, 100.0, Kind.REPEATED),
    Measure.LOWERING_TIME: About("mean time of the lowering", "s", 0.3, 20.0, Kind.REPEATED),
    Measure.HEIGHT_INDEX: About("height of the raise against the other side", "%", 0.0, 300.0, Kind.RAISE),
    Measure.HEIGHT_FADE: About("fall of the heel's height within a set", "%", 0.0, 100.0, Kind.RAISE),
    Measure.REPETITIONS_INDEX: About("repetitions against the other leg", "%", 0.0, 300.0, Kind.EXHAUSTION),
    Measure.WORK_INDEX: About("load x heel travel against the other leg", "%", 0.0, 300.0, Kind.EXHAUSTION),
    Measure.OVER_CEILING: About("times over the limit of load", "", 0.0, 1000.0, Kind.CEILING),
    Measure.SUPPORTED: About("repetitions with a part of the weight elsewhere", "", 0.0, 2000.0, Kind.REPEATED),
    Measure.PAIN_BEFORE: About("pain before", _PAIN, 0.0, 10.0, Kind.ANY),
    Measure.PAIN_DURING: About("pain during", _PAIN, 0.0, 10.0, Kind.ANY),
    Measure.PAIN_AFTER: About("pain after", _PAIN, 0.0, 10.0, Kind.ANY),
    Measure.PAIN_NEXT_MORNING: About("pain next morning", _PAIN, 0.0, 10.0, Kind.ANY),
    Measure.EFFORT: About("effort", _PAIN, 0.0, 10.0, Kind.ANY),
    Measure.CLINICIAN: About("for the clinician to judge", "", 0.0, 0.0, Kind.ANY),
}
NEAR_TARGET = "near target"
THIRDS = (Measure.SHARE_UPPER_THIRD, Measure.SHARE_MIDDLE_THIRD, Measure.SHARE_LOWER_THIRD)
MEANT_BY_TARGET = (Measure.SHARE_HELD, Measure.SHARE_LOWERING, *THIRDS, Measure.SHARE_BLIND)
ALLOWED = '"at least 10", "at most 2", "70 to 80"'
_NUMBER = r"(\d+(?:\.\d+)?)"
FORMS = (
    (re.compile(rf"at least {_NUMBER}"), ("at_least",)),
    (re.compile(rf"at most {_NUMBER}"), ("at_most",)),
    (re.compile(rf"{_NUMBER} to {_NUMBER}"), ("at_least", "at_most")),
)
"""How a limit is written, and which limits that gives."""


@dataclass(frozen=True, slots=True)
class Criterion:
    """One measure and its limits, both allowed themselves. `near_target`: they are the stage's target and its tolerance
    of a mean. `words`: what the clinician is to judge, where no number can."""

    measure: Measure
    at_least: float | None = None
    at_most: float | None = None
    near_target: bool = False
    words: str = ""

    def __str__(self) -> str:
        if self.measure is Measure.CLINICIAN:
            return self.words
        if self.near_target:
            return NEAR_TARGET
        if self.at_least is None:
            return f"at most {self.at_most:g}"
        return f"at least {self.at_least:g}" if self.at_most is None else f"{self.at_least:g} to {self.at_most:g}"


def parse_criterion(measure: Measure, words: str) -> Criterion:
    """Return the criterion that `words` say of `measure`. Raises ValueError, which says what is allowed."""
    if measure is Measure.CLINICIAN:
        if not words.strip():
            raise ValueError("say in words what the clinician is to judge")
        return Criterion(measure, words=words)
    if words == NEAR_TARGET and measure in MEANT_BY_TARGET:
        return Criterion(measure, near_target=True)
    for form, names in FORMS:
        found = form.fullmatch(words)
        if found:
            return _limited(measure, dict(zip(names, map(float, found.groups()), strict=True)))
    near = f', or "{NEAR_TARGET}"' if measure in MEANT_BY_TARGET else ""
    raise ValueError(f"{shown(words)} is no limit; write it as {ALLOWED}{near}")


def _limited(measure: Measure, limits: dict[str, float]) -> Criterion:
    about = ABOUT[measure]
    for value in limits.values():
        if not about.low <= value <= about.high:
            unit = f" {about.unit}" if about.unit not in ("", _PAIN) else ""
            raise ValueError(f"{value:g} is out of range: it may be {about.low:g} to {about.high:g}{unit}")
    if list(limits.values()) != sorted(limits.values()):
        raise ValueError(f"{limits['at_least']:g} to {limits['at_most']:g} is upside down: the smaller comes first")
    return Criterion(measure, limits.get("at_least"), limits.get("at_most"))
