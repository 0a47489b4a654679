"""What a session's report says of the limit of load: how much it was, how often it was passed, and up to what."""

from __future__ import annotations

import math
from collections.abc import Iterator

from weightshare.exercise import CeilingEvent
from weightshare.model import STANDARD_GRAVITY
from weightshare.report.account import Account
from weightshare.report.digit import UNKNOWN, fixed, plus_minus
from weightshare.report.document import Section, Table
from weightshare.report.fact import say_load
from weightshare.report.sheet import said
from weightshare.report.word import times_of

_OPTION = "--ceiling", "ceiling"
"""What a limit of a stage that was changed by hand is kept as: an option of the command, or a setting."""


def say_limit(account: Account) -> str:
    """Return the limit in words, in kg as well, and whether it was set by hand; empty where none is known."""
    settings, kept = account.replayed.session.settings, account.head.prescription
    if settings.ceiling is None:
        return ""
    told = [say_load(settings.ceiling)]
    limit_N = settings.ceiling.limit_N(account.appraisal.analysis.body_weight_N)
    if settings.ceiling.kg is None and limit_N is not None:
        told.append(f"{fixed(limit_N / STANDARD_GRAVITY, 1)} kg")
    if kept is not None and any(one.startswith(_OPTION) for one in kept.changed):
        told.append("set by hand")
    return ", ".join(told)


def passed_limit(account: Account) -> Iterator[str]:
    """Yield that the limit was passed, how often and up to what, and that the load could not be read under it."""
    events = account.appraisal.analysis.ceiling or ()
    passed = [one for one in events if not one.unread]
    if passed:
        limit = say_limit(account)
        of = f", {limit}," if limit else ""
        peaks = [one for one in passed if one.peak_N is not None]
        most = max(peaks, key=lambda one: one.peak_N or 0.0, default=None)
        up_to = "" if most is None else f", up to {_peak(account, most)} kg"
        yield f"The limit of load{of} was passed {times_of(len(passed))}{up_to}."
    if unread := len(events) - len(passed):
        yield f"Under the limit of load the load could not be read {times_of(unread)}."


def limit_section(account: Account) -> Section | None:
    """Return when the limit of load was passed; None where there was none."""
    events, limit = account.appraisal.analysis.ceiling, say_limit(account)
    if events is None:
        return None
    words = f"It was {limit}, on the injured side." if limit else ""
    if not events:
        return Section("The limit of load", (f"{words} It was never exceeded.".strip(),))
    rows = tuple(_row(account, one) for one in events)
    heads = ("from, s", "for, s", "up to, kg", "")
    worth = "\u00b1: of the load at that instant, the instrument's, k = 2." if _has_worth(account) else ""
    return Section(
        "The limit of load was exceeded",
        (words,) if words else (),
        table=Table(heads, rows, (0.1, 0.1, 0.16, 0.64), 0),
        notes=(worth,) if worth else (),
    )


def _row(account: Account, one: CeilingEvent) -> tuple[str, ...]:
    why = "the load could not be read" if one.unread else ""
    return fixed(one.start_s, 2), said(one.duration_s, 2), _peak(account, one), why


def _has_worth(account: Account) -> bool:
    return account.appraisal.doubt is not None and account.appraisal.doubt.ceiling_N is not None


def _peak(account: Account, one: CeilingEvent) -> str:
    """Return the greatest load of a crossing with what it is worth, kg.

    That is known at the limit. No part of it grows faster than the load, so what is over the limit by a part is worth
    no less than that part more.
    """
    if one.peak_N is None:
        return UNKNOWN
    doubt, ceiling = account.appraisal.doubt, account.replayed.session.settings.ceiling
    limit_N = None if ceiling is None else ceiling.limit_N(account.appraisal.analysis.body_weight_N)
    half_N = math.nan
    if doubt is not None and doubt.ceiling_N is not None and limit_N:
        half_N = doubt.ceiling_N * max(1.0, one.peak_N / limit_N)
    return plus_minus(one.peak_N / STANDARD_GRAVITY, half_N / STANDARD_GRAVITY)
