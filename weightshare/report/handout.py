"""What a session's report says to the patient: one page, plain words, one picture."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean

from weightshare.exercise import Exercise, Repetition
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.words import CAUTIONS
from weightshare.records.diary import About
from weightshare.report.account import UNDATED, Account, day_of
from weightshare.report.chart import Panel, Ribbon, Series, draw_panels, padded
from weightshare.report.digit import fixed
from weightshare.report.document import Document, Picture, Section
from weightshare.report.drawing import BLUE, INK, Drawing, Mark
from weightshare.report.strip import course_picture
from weightshare.report.word import count_of, say_date, say_done, times_of
from weightshare.task import Settings

WIDTH, HEIGHT, PART = 235.0, 142.0, 0.75
"""Of the picture, points: so narrow that its letters can be read on a phone. On paper it takes a part of the width."""
NEXT = (
    "What comes next is for you and your clinician to decide together. These figures are no permission for more load."
)
FOOT = "weightshare is not a certified medical device. Ask your clinician about anything here that you wonder about."
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Deed:
    """What one repetition came to: its mean share in the part that counts, and the least and greatest of its thirds."""

    share: float
    least: float
    most: float


def make_handout(account: Account) -> Document:
    """Return the page for the patient whose session it was."""
    day = _say_day(account)
    person = account.person
    facts = () if person is None else (("For", person.name or person.code),)
    settings = account.replayed.session.settings
    told = (*_warn(account), *_tell(account))
    sections = (
        Section("What you did", (say_done(settings), *told), pictures=(_picture(account),)),
        Section("Keep in mind", (), (*CAUTIONS, NEXT)),
    )
    return Document(f"Your practice on {day}", facts, sections, FOOT, f"Practice on {day}", large=True, pages=1)


def _say_day(account: Account) -> str:
    day = day_of(account.head.started_at)
    return UNDATED if day is None else say_date(day)


def _tell(account: Account) -> Iterator[str]:
    """Yield what came of it, a sentence at a time."""
    analysis, settings = account.appraisal.analysis, account.replayed.session.settings
    if settings.is_repeated:
        yield from _tell_repetitions(account)
    elif settings.has_band:
        yield from _tell_holds(account)
    elif analysis.share_percent.mean is not None:
        share = fixed(analysis.share_percent.mean, 0)
        yield f"On average {share} % of the load was on your {settings.injured} foot. No target was set."
    if account.replayed.session.warnings:
        yield "The recording is not complete: something may be missing here."


def _warn(account: Account) -> Iterator[str]:
    """Yield what went over a limit, of load and of pain: before all that was done well."""
    passed = sum(not event.unread for event in account.appraisal.analysis.ceiling or ())
    if passed:
        foot = f"your {account.replayed.session.settings.injured} foot"
        yield f"There was more load on {foot} than was allowed, {times_of(passed)}. Tell your clinician."
    limit = None if account.head.prescription is None else account.head.prescription.pain_limit
    for about, when in _PAINS.items():
        newest = account.diary.newest(about)
        if limit is not None and newest is not None and (newest.value or 0) > limit:
            yield f"You reported pain of {newest.value} out of 10 {when}; the limit is {limit}. Tell your clinician."


_PAINS = {
    About.PAIN_DURING: "during practice",
    About.PAIN_AFTER: "after practice",
    About.PAIN_NEXT_MORNING: "the next morning",
}


def _tell_holds(account: Account) -> Iterator[str]:
    analysis, goal = account.appraisal.analysis, account.head.goal
    settings = account.replayed.session.settings
    holds = analysis.holds or ()
    yield f"The aim was {say_aim(settings)}, for {goal.hold_s:g} seconds at a time, {times_of(goal.holds)}."
    reached = sum(one.held_s >= goal.hold_s - _ROUNDING for one in holds)
    if not holds:
        yield "It was not held for a second or more yet."
        return
    longest, total = math.floor(analysis.longest_hold_s or 0.0), math.floor(analysis.total_held_s or 0.0)
    yield f"You held it {times_of(len(holds))}. {_say_reached(reached, len(holds))}"
    yield f"The longest was {count_of(longest, 'second')}, and all together {count_of(total, 'second')}."


def _say_reached(reached: int, among: int) -> str:
    if among == 1:
        return "That was as long as was asked." if reached else "That was not yet as long as was asked."
    said = {0: "None of these was", 1: "One of these was", among: "All of these were"}
    return f"{said.get(reached, f'{reached} of these were')} as long as was asked."


def _tell_repetitions(account: Account) -> Iterator[str]:
    analysis, settings, goal = account.appraisal.analysis, account.replayed.session.settings, account.head.goal
    count, sets = len(analysis.repetitions), sum(bool(one.repetitions) for one in analysis.sets)
    among = f" in {sets} sets" if sets > 1 else ""
    asked = "" if goal.to_exhaustion else f" You were asked for {count_of(goal.sets, 'set')} of {goal.repetitions}."
    yield f"{count_of(count, 'repetition')} counted{among}.{asked}"
    if settings.target_percent is not None and not settings.is_single:
        yield f"The aim {_when(settings)} was {say_aim(settings)}."
        parts = [
            one.lowering_in_band_percent for one in analysis.repetitions if one.lowering_in_band_percent is not None
        ]
        if parts and settings.exercise is not Exercise.SIT_TO_STAND:
            yield f"On average you were within it for {fixed(fmean(parts), 0)} % of the way down."
    left = len(analysis.rejected)
    if left:
        yield f"{count_of(left, 'movement')} {'was' if left == 1 else 'were'} not counted, because {_why_not(account)}."


def _why_not(account: Account) -> str:
    reasons = dict.fromkeys(one.reason for one in account.appraisal.analysis.rejected)
    return "; ".join(_REASONS.get(reason, reason) for reason in reasons)


_REASONS = {
    "low": "the heel did not go up high enough",
    "short": "it was too quick",
    "a foot left the plates": "a foot left the plates",
    "a half-way pause and return": "it stopped half-way and went back",
    "too little on the plates": "part of your weight was elsewhere",
    "readings were missing": "the scales could not be read",
    "cut off at the end": "the recording ended in it",
    "struck by the clinician": "your clinician took it back",
    "a forward lean": "you leaned forward, and the heels stayed down",
}


def _when(settings: Settings) -> str:
    return "on the way up" if settings.exercise is Exercise.SIT_TO_STAND else "on the way down"


def say_aim(settings: Settings) -> str:
    """Return the band in plain words."""
    foot = f"on your {settings.injured} foot"
    if settings.load_N is not None:
        low, high = (
            fixed(max(0.0, settings.load_N + way * settings.load_tolerance_N) / STANDARD_GRAVITY, 0) for way in (-1, 1)
        )
        return f"{low} kg or more {foot}" if settings.one_sided else f"{low} to {high} kg {foot}"
    band = settings.band_percent
    assert band is not None, "asked of what has a band"
    return (
        f"{band[0]:g} % of the load or more {foot}"
        if settings.one_sided
        else f"{band[0]:g} to {band[1]:g} % of the load {foot}"
    )


def _picture(account: Account) -> Picture:
    analysis, settings = account.appraisal.analysis, account.replayed.session.settings
    deeds = deeds_of(analysis.repetitions, settings)
    heights = _heights(account)
    if settings.is_repeated and not settings.is_single and deeds:
        return Picture(_draw_deeds(deeds, settings), _below_deeds(settings), "repetitions", PART)
    if settings.is_single and heights:
        return Picture(_draw_heights(heights), _HEIGHTS, "heights", PART)
    if not settings.is_repeated and analysis.holds:
        return Picture(
            _draw_holds([one.held_s for one in analysis.holds], account.head.goal.hold_s), _HOLDS, "holds", PART
        )
    load = "load" if settings.is_supported else "share of the load"
    words = f"The {load} on your {settings.injured} foot, from the beginning to the end."
    return Picture(course_picture(account, 360.0, most=1), words, "course")


_HEIGHTS = "How high your heel went, one mark for each repetition."
_HOLDS = "How long you held it, one mark for each time. The dashed line is what was asked for."


def _below_deeds(settings: Settings) -> str:
    band = (
        ""
        if settings.target_percent is None
        else " The grey band is the aim; a full mark stayed within it, an open one did not."
    )
    spread = (
        ""
        if settings.exercise is Exercise.SIT_TO_STAND
        else " The line through a mark is how far the load moved in it."
    )
    what = f"The part of the load on your {settings.injured} foot {_when(settings)}"
    return f"{what}, one mark for each repetition.{band}{spread}"


def deeds_of(repetitions: Sequence[Repetition], settings: Settings) -> list[tuple[int, Deed]]:
    """Return the repetitions of which the share that counts is known, with their numbers from 1 on."""
    found = []
    for number, one in enumerate(repetitions, 1):
        is_rise = settings.exercise is Exercise.SIT_TO_STAND
        share = one.share_rise_percent if is_rise else one.share_lowering_percent
        if share is not None:
            thirds = () if is_rise else one.share_lowering_thirds_percent or ()
            parts = [share, *(part for part in thirds if part is not None)]
            found.append((number, Deed(share, min(parts), max(parts))))
    return found


def _draw_deeds(deeds: Sequence[tuple[int, Deed]], settings: Settings) -> Drawing:
    band = settings.band_percent
    inside: list[tuple[float, Deed]] = []
    outside: list[tuple[float, Deed]] = []
    for number, deed in deeds:
        # a mean within the band that is made of too much and too little is not within it
        fits = band is None or (band[0] <= deed.least and deed.most <= band[1])
        (inside if fits else outside).append((float(number), deed))
    names = ("within the aim", "outside it") if band is not None else ("a repetition", "")
    series = [
        Series(name, mark, tuple((x, deed.share) for x, deed in group), colour=colour)
        for name, mark, group, colour in zip(
            names, (Mark.SQUARE, Mark.DISC), (inside, outside), (BLUE, INK), strict=True
        )
        if group
    ]
    reach = [edge for _number, deed in deeds for edge in (deed.least, deed.most)]
    low, high = padded([*reach, *(band or ())], 20.0)
    across = (0.4, deeds[-1][0] + 0.6)
    aim = () if band is None else (Ribbon.level(across, band),)
    lines = tuple(((float(number), deed.least), (float(number), deed.most)) for number, deed in deeds)
    panel = Panel(
        "Each repetition", "repetition", "% of the load", tuple(series), across,
        (max(0.0, low), min(100.0, high)), x_ticks=_numbers(deeds[-1][0]), curves=lines, ribbons=aim,
    )  # fmt: skip
    return draw_panels([panel], "Share of the load in each repetition", WIDTH, HEIGHT)


def _numbers(count: int) -> tuple[tuple[float, str], ...]:
    every = max(1, math.ceil(count / 10))
    return tuple((float(number), str(number)) for number in range(1, count + 1) if number % every == 0 or number == 1)


def _heights(account: Account) -> dict[Side, list[tuple[float, float]]]:
    """Return how high the working heel went, mm, by leg, with each repetition's number."""
    analysis, settings = account.appraisal.analysis, account.replayed.session.settings
    legs = {place: one.working for one in analysis.sets for place in one.repetitions}
    found: dict[Side, list[tuple[float, float]]] = {}
    for place, one in enumerate(analysis.repetitions):
        leg = legs.get(place, settings.working_side)
        height = one.height_injured_mm if leg is settings.injured else one.height_uninjured_mm
        if height is not None:
            found.setdefault(leg, []).append((place + 1.0, height))
    return found


def _draw_heights(heights: Mapping[Side, Sequence[tuple[float, float]]]) -> Drawing:
    marks = {Side.LEFT: Mark.SQUARE, Side.RIGHT: Mark.DISC}
    series = tuple(Series(f"{leg} leg", marks[leg], tuple(points)) for leg, points in sorted(heights.items()))
    all_points = [point for points in heights.values() for point in points]
    last = round(max(x for x, _y in all_points))
    panel = Panel(
        "Each repetition", "repetition", "height of the heel, mm", series, (0.4, last + 0.6),
        (0.0, 1.2 * max(y for _x, y in all_points)), x_ticks=_numbers(last),
    )  # fmt: skip
    return draw_panels([panel], "Height of the heel in each repetition", WIDTH, HEIGHT)


def _draw_holds(held_s: Sequence[float], goal_s: float) -> Drawing:
    points = tuple((float(number), seconds) for number, seconds in enumerate(held_s, 1))
    stems = tuple(((x, 0.0), (x, y)) for x, y in points)
    panel = Panel(
        "Each time that you held it", "hold", "seconds held", (Series("held", Mark.SQUARE, points, colour=BLUE),),
        (0.4, len(points) + 1.1), (0.0, 1.2 * max(goal_s, *held_s)), rules=((goal_s, "asked for"),),
        x_ticks=_numbers(len(points)), curves=stems,
    )  # fmt: skip
    return draw_panels([panel], "How long each hold lasted", WIDTH, HEIGHT)
