"""What a patient's sessions say to the patient, over the weeks: one page, plain words, one picture."""

from __future__ import annotations

from collections.abc import Iterator

from weightshare.practice.words import CAUTIONS
from weightshare.report.account import day_of
from weightshare.report.chart import draw_panels
from weightshare.report.document import Document, Picture, Section
from weightshare.report.handout import FOOT, HEIGHT, NEXT, PART, WIDTH, say_aim
from weightshare.report.history import Chapter, History
from weightshare.report.overview import EXERTION, MORNING, days_panel, share_panel, span_of
from weightshare.report.word import count_of, say_date, say_done

_DECIDED = {"goes on": "go on to the next stage", "stays": "stay at this stage", "goes back": "go back a stage"}
_DATES = 4
_FEW_WEEKS = 14
"""Up to so many days are told as days, more as weeks."""


def make_journey(history: History) -> Document:
    """Return the page for the patient whose sessions they were."""
    first, last = history.days[0], history.days[-1]
    person = history.person
    sections = (
        Section("What you did", tuple(_tell(history)), pictures=(_picture(history),)),
        Section("Keep in mind", (), (*CAUTIONS, NEXT)),
    )
    title = f"Your practice from {say_date(first, year=first.year != last.year)} to {say_date(last)}"
    return Document(title, (("For", person.name or person.code),), sections, FOOT, title, large=True, pages=1)


def _tell(history: History) -> Iterator[str]:
    """Yield what came of it, a paragraph at a time."""
    days = history.days
    newest = next((one for one in reversed(history.chapters) if not one.is_broken_off), history.chapters[-1])
    yield f"You practised on {count_of(len(days), 'day')} in {_span(history.span_days)}."
    yield " ".join(_tell_newest(newest))
    yield from _tell_before(history)
    yield from _tell_pain(history)
    passed = sum(bool(one.crossings) for one in history.chapters)
    if passed:
        yield (
            f"In {count_of(passed, 'session')} there was more load on your injured foot than was allowed. Tell your"
            " clinician, if you have not."
        )
    yield from _tell_decision(history)


def _span(days: int) -> str:
    return count_of(days, "day") if days <= _FEW_WEEKS else f"{round(days / 7)} weeks"


def _tell_newest(newest: Chapter) -> Iterator[str]:
    settings = newest.head.settings
    yield f"The last time, on {say_date(newest.day, year=False)}: {say_done(settings)}"
    if newest.share_percent is not None:
        yield f"The aim was {say_aim(settings)}."


def _tell_before(history: History) -> Iterator[str]:
    """Yield what the aim was at first, where it was another one."""
    asked = [one for one in history.chapters if one.share_percent is not None]
    if not asked:
        return
    first, last = asked[0].head.settings, asked[-1].head.settings
    if first.injured is last.injured and first.band_percent != last.band_percent:
        yield f"At first the aim was {say_aim(first)}."


def _tell_pain(history: History) -> Iterator[str]:
    told = [(one, pain) for one in history.chapters if (pain := one.pain(*EXERTION, *MORNING)) is not None]
    if not told:
        return
    (newest, now), most = told[-1], max(pain for _one, pain in told)
    words = "You reported no pain." if not most else f"The most pain you reported was {most} out of 10"
    when = f"; most recently, on {say_date(newest.day, year=False)}, it was {now}."
    yield words if not most else f"{words}{when}"


def _tell_decision(history: History) -> Iterator[str]:
    """Yield what was decided last, by the stage's name where it is known; nothing where that is in doubt."""
    if not history.rulings or history.rulings[-1].doubt:
        return
    newest = history.rulings[-1]
    day = day_of(newest.at)
    when = "" if day is None else f"On {say_date(day, year=False)} "
    name = history.stage_names.get(newest.stage_to, newest.stage_to)
    yield f"{when}{newest.by} decided that you {_DECIDED.get(newest.what, newest.what)}: {name}."


def _picture(history: History) -> Picture:
    span = span_of(history)
    shared = share_panel(history, span, _DATES, plain=True)
    panel = days_panel(history, span, _DATES, plain=True) if shared is None else shared
    words = (
        "Days of practice in each week."
        if shared is None
        else "How much of the load was on your injured foot, one mark for each session. The grey band is the aim."
    )
    return Picture(draw_panels([panel], words, WIDTH, HEIGHT), words, "weeks", PART)
