"""How a patient's figures, practice, pain and limits of load went, in words. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from weightshare.model import STANDARD_GRAVITY
from weightshare.practice.message import retell
from weightshare.records.diary import About
from weightshare.records.store.progress import Progress
from weightshare.report.history import History, longest_pause
from weightshare.report.trend import MOST_SHOWN, ORDER, PRESCRIBED
from weightshare.tongue import number, plural, say
from weightshare.window.patientwords import DOT


def in_order(trends: Sequence[Progress]) -> tuple[Progress, ...]:
    """Return the newest task's figures first, the most telling of each before others, the injured side's before."""
    newest = {one.ident: place for place, one in enumerate(trends)}
    telling = {name: place for place, name in enumerate(ORDER)}

    def key(one: Progress) -> tuple[int, int, int, bool]:
        own = one.side not in (None, one.injured)
        is_prescribed = one.figure in PRESCRIBED or bool(one.note)
        return -newest[one.ident], int(is_prescribed), telling.get(one.figure, len(ORDER)), own

    return tuple(sorted(trends, key=key))


def rows_of(trends: Sequence[Progress], *, every: bool) -> tuple[Progress | str, ...]:
    """Return the rows of a list: each task with its days, under it `every` figure in its order, or the most telling.

    Those are of the injured side or of both legs' work, and neither prescribed nor steered to.
    """
    rows: list[Progress | str] = []
    for _ident, of_task in groupby(in_order(trends), key=lambda one: one.ident):
        found = list(of_task)
        telling = [one for one in found if _is_telling(one)] or found
        rows += [_say_task(found), *(found if every else telling[:MOST_SHOWN])]
    return tuple(rows)


def _is_telling(one: Progress) -> bool:
    is_own = one.side in (None, one.injured)
    return is_own and one.figure in ORDER and one.figure not in PRESCRIBED and not one.note


def say_task(one: Progress) -> str:
    """Return what was done."""
    return ", ".join(map(retell, one.words))


def _say_task(found: Sequence[Progress]) -> str:
    """Return what was done, and from when to when."""
    days = [day.day for one in found for day in one.course.days]
    return f"{say_task(found[0])}{DOT}{min(days)}\u00a0\u2013\u00a0{max(days)}"


def say_trend(one: Progress) -> str:
    """Return one figure's course as a line of a list."""
    side = "" if one.side is None or one.side is one.injured else f", {say(one.side)}"
    first, newest = (number(day.value, ".1f") for day in (one.course.days[0], one.course.days[-1]))
    unit = f" {one.unit}".rstrip()
    return f"{say(one.figure)}{side}: {first} \u2192 {newest}{unit}, {_verdict(one)}"


def _verdict(one: Progress) -> str:
    if one.course.band is None:
        return say("too few days to tell")
    return say("a real change") if one.course.days[-1].is_change else say("no real change")


def say_course(one: Progress) -> str:
    """Return what a figure's course says, and what it cannot say."""
    course, unit = one.course, f" {one.unit}".rstrip()
    first, newest = course.days[0], course.days[-1]
    values = say(
        "From {first}{unit} on {day} to {newest}{unit} on {newest_day}, {days} days.",
        first=number(first.value, ".1f"),
        newest=number(newest.value, ".1f"),
        unit=unit,
        day=first.day,
        newest_day=newest.day,
        days=len(course.days),
    )
    if course.band is None or course.mdc is None:
        return " ".join(
            (values, say("Whether that is a change is not known: {why}.", why=retell(course.reason)), _note(one))
        )
    told = say(
        "{verdict:C}: it varies by up to {mdc}{unit} from day to day without any change.",
        verdict=_verdict(one),
        mdc=number(course.mdc, ".1f"),
        unit=say(" points") if one.unit == "%" else unit,
    )
    if course.by_instrument:
        told = f"{told} {say('That is what the instrument leaves in doubt: the days scatter by less.')}"
    return " ".join((values, told, _note(one))).strip()


def _note(one: Progress) -> str:
    return say("{note:C}.", note=retell(one.note)) if one.note else ""


def say_adherence(history: History) -> str:
    """Return on how many days something was practised, and the longest pause."""
    days = history.days
    if not days:
        return say("No session of a day that is over yet.")
    said = [
        plural(
            "Practised on {count} of {n} day.", "Practised on {count} of {n} days.", history.span_days, count=len(days)
        )
    ]
    pause = longest_pause(days)
    if pause is not None and (pause[1] - pause[0]).days > 1:
        gap = (pause[1] - pause[0]).days - 1
        said.append(plural("The longest pause was {n} day.", "The longest pause was {n} days.", gap))
    return " ".join(said)


def say_pain(history: History) -> str:
    """Return the most pain that was told of, and of how many sessions it was."""
    kinds = About.PAIN_DURING, About.PAIN_AFTER, About.PAIN_NEXT_MORNING
    pains = [pain for one in history.chapters if (pain := one.pain(*kinds)) is not None]
    if not pains:
        return say("Nothing was told of pain.")
    told = plural(
        "Pain was told of in {told} of {n} session, {most} of 10 at most.",
        "Pain was told of in {told} of {n} sessions, {most} of 10 at most.",
        len(history.chapters),
        told=len(pains),
        most=max(pains),
    )
    over = [one for one in history.chapters if one.pain_limit is not None and (one.pain(*kinds) or 0) > one.pain_limit]
    if not over:
        return told
    days = ", ".join(one.day.isoformat() for one in over)
    return f"{told} {say('Over the limit of the stage on {days}.', days=days)}"


def say_limit(history: History) -> str:
    """Return in how many sessions a limit of load was set, and in how many it was passed."""
    limited = [one for one in history.chapters if one.crossings is not None]
    if not limited:
        return say("No limit of load was set.")
    passed = [one for one in limited if one.crossings]
    said = plural(
        "A limit of load was set in {n} session, and passed in {passed}.",
        "A limit of load was set in {n} sessions, and passed in {passed}.",
        len(limited),
        passed=len(passed) or say("none"),
    )
    peaks = [
        event.peak_N / STANDARD_GRAVITY for one in passed for event in one.crossings or () if event.peak_N is not None
    ]
    return f"{said} {say('At most {kg} kg.', kg=number(max(peaks), '.1f'))}" if peaks else said


def say_scales(history: History, today: date) -> str:
    """Return each scale that was used, with its newest calibration and whether that holds today."""
    newest: dict[str, date] = {}
    until: dict[str, date | None] = {}
    for one in history.chapters:
        for each in one.calibrations:
            if each.made_on >= newest.get(each.device_id, date.min):
                newest[each.device_id], until[each.device_id] = each.made_on, each.valid_until
    return "; ".join(
        say("Scale {scale}: calibrated on {day}, {state}", scale=scale, day=day, state=_state(until[scale], today))
        for scale, day in newest.items()
    )


def _state(until: date | None, today: date) -> str:
    if until is None:
        return say("until when that holds is not told")
    return say("out of date since {day}", day=until) if until < today else say("valid until {day}", day=until)


def say_stretches(history: History) -> str:
    """Return what the numbers along the top of the picture stand for."""
    return "\n".join(f"{number}  {retell(stretch[0].name)}" for number, stretch in enumerate(history.stretches, 1))
