"""Pictures over a patient's weeks: the share against what was asked for, the days of practice, pain."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from weightshare.records.diary import About
from weightshare.report.chart import Block, Panel, Ribbon, Series, Span, draw_panels, number_of, padded, week_ticks
from weightshare.report.drawing import BLUE, INK, RED, WIDE, Drawing, Mark
from weightshare.report.history import Chapter, History, count_by_week
from weightshare.report.word import say_short

HEIGHT = 94.0
WEEK = 7.0
_DATES, _FEW_DATES = 7, 3
"""So many dates stand below a wide picture, and below a narrow one."""
_HALF_DAY, _TO_MORNING = 0.5, 0.7
EXERTION, MORNING = (About.PAIN_DURING, About.PAIN_AFTER), (About.PAIN_NEXT_MORNING,)
"""When pain is told of."""
MOST_PAIN = 10


def overview_picture(history: History, width: float = WIDE) -> Drawing:
    """Return the share, the days of practice and pain, one under the other over the same dates; what is not known of
    any session is left out."""
    span = span_of(history)
    most = _DATES if width >= WIDE else _FEW_DATES
    panels = [share_panel(history, span, most), days_panel(history, span, most), _pain_panel(history, span, most)]
    return draw_panels(
        [panel for panel in panels if panel is not None], "What was practised over the weeks, day by day", width, HEIGHT
    )


def span_of(history: History) -> tuple[float, float]:
    """Return the days that a picture goes over, as days since 1970-01-01."""
    days = history.days
    low, high = padded([number_of(days[0]), number_of(days[-1])], 13.0, 0.03)
    return low - _HALF_DAY, high + _HALF_DAY


def share_panel(
    history: History, span: tuple[float, float], dates: int = _DATES, *, plain: bool = False
) -> Panel | None:
    """Return the share of each session that asked for one on two legs, over the band that was asked for then.

    dates: so many at most stand below. plain: for the patient, in plain words and without the stages' numbers. None
    where no session asked for one.
    """
    every = [one for one in history.chapters if one.share_percent is not None]
    if not every:
        return None
    injured = every[-1].head.settings.injured
    known = [one for one in every if one.head.settings.injured is injured]
    ribbons = tuple(aims_of([one for one in history.chapters if one.head.settings.injured is injured], span))
    reach = [
        *(one.share_percent or 0.0 for one in known),
        *(y for each in ribbons for _x, *edges in each.points for y in edges),
    ]
    low, high = padded(reach, 20.0)
    passed = [one for one in known if one.crossings]
    series = [Series("a session", Mark.SQUARE, _points(known), colour=BLUE)]
    if passed:
        name = "more load than was allowed" if plain else "the limit of load was passed"
        series.append(Series(name, Mark.DIAMOND, _points(passed), colour=RED))
    title = "Each session" if plain else "Share of the load on the injured side"
    name = "% of the load" if plain else f"{injured} side, %"
    return Panel(
        title, "", name, tuple(series), span, (max(0.0, low), min(100.0, high)),
        x_ticks=_ticks(history, span, dates, plain=plain),
        ribbons=ribbons, spans=() if plain else tuple(stages_of(history)), tall=1.0 if plain else 1.25,
    )  # fmt: skip


def _ticks(history: History, span: tuple[float, float], most: int, *, plain: bool) -> tuple[tuple[float, str], ...]:
    """Return ticks by whole weeks from the first day on, at most so many."""
    days = week_ticks(history.days[0], span[1], most)
    return tuple((number_of(day), say_short(day) if plain else day.isoformat()) for day in days)


def _points(chapters: Sequence[Chapter]) -> tuple[tuple[float, float], ...]:
    return tuple((number_of(one.day), one.share_percent or 0.0) for one in chapters)


def aims_of(chapters: Sequence[Chapter], span: tuple[float, float]) -> Iterator[Ribbon]:
    """Yield the bands that were asked for, each until another one was."""
    runs = [(band, list(run)) for band, run in groupby(chapters, key=_band)]
    for (band, run), after in zip(runs, [*(run for _band, run in runs[1:]), None], strict=True):
        end = span[1] if after is None else number_of(after[0].day) - _HALF_DAY
        begin = number_of(run[0].day) - _HALF_DAY
        if band is not None and end > begin:
            yield Ribbon.level((begin, end), band)


def _band(one: Chapter) -> tuple[float, float] | None:
    settings = one.head.settings
    return None if settings.is_single or one.share_percent is None else settings.band_percent


def stages_of(history: History) -> Iterator[Span]:
    """Yield when each stage was practised, by its number in the order in which they were begun."""
    numbers = {stretch[0].key: number for number, stretch in enumerate(history.stretches, 1)}
    runs = [(key, list(run)) for key, run in groupby(history.chapters, key=lambda one: one.key)]
    for key, run in runs:
        yield Span(number_of(run[0].day) - 0.4, number_of(run[-1].day) + 0.4, str(numbers[key]))


def days_panel(history: History, span: tuple[float, float], dates: int, *, plain: bool = False) -> Panel:
    """Return how many days of each week something was practised on."""
    blocks = tuple(
        Block(number_of(week) - 0.4, min(number_of(week) + WEEK - 0.6, span[1]), float(count))
        for week, count in count_by_week(history.days)
    )
    ticks = _ticks(history, span, dates, plain=plain)
    return Panel(
        "Days of practice in each week", "", "days", (), span, (0.0, WEEK), x_ticks=ticks, blocks=blocks,
        tall=1.0 if plain else 0.72,
    )  # fmt: skip


def _pain_panel(history: History, span: tuple[float, float], dates: int) -> Panel | None:
    kinds = (("in practice or after it", Mark.SQUARE, BLUE, EXERTION), ("the next morning", Mark.DISC, INK, MORNING))
    series = tuple(
        Series(name, mark, points, colour=colour)
        for name, mark, colour, about in kinds
        if (points := tuple(_told(history.chapters, about)))
    )
    if not series:
        return None
    limits = {one.pain_limit for one in history.chapters if one.pain_limit is not None}
    # where the stages' limits differ, no one line is right
    rules = tuple((float(limit), "") for limit in limits) if len(limits) == 1 else ()
    dashed = f"; dashed: the limit, {min(limits)}" if rules else ""
    return Panel(
        f"Pain, of 10{dashed}", "date", "of 10", series, span, (0.0, float(MOST_PAIN)),
        x_ticks=_ticks(history, span, dates, plain=False), rules=rules,
    )  # fmt: skip


def _told(chapters: Sequence[Chapter], about: tuple[About, ...]) -> Iterator[tuple[float, float]]:
    """Yield what was told, each at its time: the next morning is not the day of the session."""
    after = _TO_MORNING if about is MORNING else 0.0
    for one in chapters:
        pain = one.pain(*about)
        if pain is not None:
            yield number_of(one.day) + after, float(pain)
