"""What is known of a session, as names and values: the first table of its report."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date

from weightshare import __version__
from weightshare.exercise import Load
from weightshare.model import STANDARD_GRAVITY, Calibration
from weightshare.practice.words import band_words
from weightshare.records.manifest import Ending
from weightshare.records.support import HeldLoad
from weightshare.report.account import UNDATED, Account, Person, day_of
from weightshare.report.digit import fixed, plus_minus, rounded_up
from weightshare.report.sheet import said, with_doubt
from weightshare.report.word import name_of
from weightshare.state import Alignment

_ENDINGS = {
    None: "not finished",
    Ending.RECOVERED: "cut short",
    Ending.CUT_SHORT: "recording stopped before the session",
}


def facts_of(account: Account) -> Iterator[tuple[str, str]]:
    """Yield what is known of a session: names and values."""
    person, head, analysis = account.person, account.head, account.appraisal.analysis
    settings = account.replayed.session.settings
    if person is not None:
        yield "Patient", f"{person.code}   {person.name}".strip()
    yield "Began", head.started_at[:19].replace("T", " ") or UNDATED
    yield "Injured side", _side(account)
    yield "Exercise", name_of(settings)
    yield "Asked for", say_asked_for(account)
    yield "Body weight", say_weight(account)
    if settings.added_weight_N:
        yield "Added weight", f"{fixed(settings.added_weight_N / STANDARD_GRAVITY, 1)} kg"
    if account.appraisal.load is not None:
        yield "Load while held", f"mean {_load(account.appraisal.load)} on the injured side"
    if not settings.is_supported:
        yield "On the plates", f"{said(analysis.on_plates_percent)} % of the weight"
        yield "Share of the injured side", say_share(account)
    if head.footwear is not None and head.footwear.words:
        yield "Worn", head.footwear.words
    rate = f"{analysis.samples} samples at {analysis.rate_Hz:.4g} Hz"
    ending = _ENDINGS.get(account.replayed.session.ending, "")
    yield "Recorded", ", ".join(filter(None, (f"{fixed(analysis.duration_s, 1)} s", rate, ending)))
    yield "Program", _say_program(head.program)
    if analysis.alignment is not None:
        yield "Two clocks", _clocks(analysis.alignment)
    day = day_of(head.started_at)
    yield (
        "Scales",
        "; ".join(
            f"{one.device_id}, calibrated on {one.made_on}, {say_state(one, day)}" for one in account.calibrations
        ),
    )


def _say_program(recorded_with: str) -> str:
    """Return the version that reports, and that which recorded where it was another one."""
    mine = f"weightshare {__version__}"
    return mine if recorded_with == mine else f"{mine}; recorded with {recorded_with or 'an unknown version'}"


def say_load(load: Load) -> str:
    """Return a load, or a limit of it, in words."""
    return f"{load.kg:g} kg" if load.kg is not None else f"{load.percent:g} % of body weight"


def say_state(calibration: Calibration, day: date | None) -> str:
    """Return whether a calibration held on a day, and until when."""
    until = calibration.valid_until
    if until is None:
        return "until when that holds is not told"
    return f"out of date: it held until {until}" if day is not None and day > until else f"valid until {until}"


def _clocks(alignment: Alignment) -> str:
    """Return what the clocks of two separate scales do to the share."""
    points = alignment.share_doubt_points
    if points is None:
        return "how well they agree is not known"
    return f"their times leave {fixed(rounded_up(points, 2), 2)} points of share in doubt (u), counted in \u00b1"


def _side(account: Account) -> str:
    followed = " (both are injured: this side was followed)" if account.both_injured else ""
    since = say_since(account.person, day_of(account.head.started_at))
    return f"{account.replayed.session.settings.injured}{followed}{since}"


def say_since(person: Person | None, day: date | None) -> str:
    """Return since when somebody is injured, and how long before `day` that was; nothing where it is not known."""
    then = day_of(person.injured_on if person is not None else "")
    if person is None or not person.injured_on:
        return ""
    if day is None or then is None or day < then:
        return f", since {person.injured_on}"
    weeks, days = divmod((day - then).days, 7)
    parts = [f"{count} {name}{'' if count == 1 else 's'}" for count, name in ((weeks, "week"), (days, "day")) if count]
    return f", since {person.injured_on} ({' and '.join(parts) or 'the same day'}{' before' if parts else ''})"


def say_asked_for(account: Account) -> str:
    """Return what was asked for: the band, and how much of it."""
    settings, goal = account.replayed.session.settings, account.head.goal
    unit = "" if settings.is_supported else " % on the injured side"
    band = band_words(settings)
    aim = f"{band}{unit}" if band else "no target"
    if settings.is_repeated:
        count = "to exhaustion" if goal.to_exhaustion else f"{goal.repetitions} repetitions each"
        tempo = "" if settings.tempo is None else f", tempo {settings.tempo} s"
        sets = f"{goal.sets} set{'' if goal.sets == 1 else 's'}"
        return f"{aim}; {sets}, {count}{tempo}, on the {settings.surface}"
    return f"{aim}; {goal.holds} holds of {goal.hold_s:g} s" if settings.has_band else aim


def say_weight(account: Account) -> str:
    """Return the body weight with its uncertainty."""
    analysis, doubt = account.appraisal.analysis, account.appraisal.doubt
    weight_N = analysis.body_weight_N
    if weight_N is None:
        return "not known"
    half_N = math.nan if doubt is None or doubt.body_weight_N is None else doubt.body_weight_N
    given = ", as given" if account.replayed.session.settings.body_weight_N is not None else ""
    return f"{plus_minus(weight_N / STANDARD_GRAVITY, half_N / STANDARD_GRAVITY)} kg{given}"


def _load(load: HeldLoad) -> str:
    return f"{plus_minus(load.kg, math.nan if load.u_kg is None else 2.0 * load.u_kg)} kg"


def say_share(account: Account) -> str:
    """Return the mean share with its uncertainty, the least and the greatest."""
    share, doubt = account.appraisal.analysis.share_percent, account.appraisal.doubt
    half = None if doubt is None else doubt.share.expanded_points
    spread = f"least {said(share.min)}, greatest {said(share.max)}, over all standing"
    steered = "; steered to a target" if account.appraisal.analysis.symmetry.steered else ""
    return f"mean {with_doubt(share.mean, half)} %; {spread}{steered}"
