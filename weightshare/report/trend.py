"""How a task went over several sessions, with the band within which a change is none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from weightshare.metrology.course import LEAST_DAYS, Course, course_of, extent_of
from weightshare.metrology.repeat import Repeat
from weightshare.model import Side
from weightshare.records.answer import HELD, LOWERING
from weightshare.records.figure import LOAD_TRAVEL, LONGEST_HOLD, MEAN_HEIGHT, MEAN_SHARE, REPETITIONS
from weightshare.report.account import Sitting
from weightshare.report.chart import Panel, Ribbon, Series, day_ticks, draw_panels, number_of, padded
from weightshare.report.digit import fixed
from weightshare.report.document import Picture, Section
from weightshare.report.drawing import NARROW, WIDE, Mark
from weightshare.report.word import count_of

ORDER = (LOWERING, HELD, LONGEST_HOLD, MEAN_HEIGHT, REPETITIONS, LOAD_TRAVEL, MEAN_SHARE)
"""What is shown first. With a target the mean over all standing says nothing beside the share that was asked for."""
PRESCRIBED = (REPETITIONS, LOAD_TRAVEL)
"""How many repetitions there are, and what hangs on it, is the prescription's unless sets go to exhaustion."""
MOST_SHOWN = 3
HEIGHT, _COLUMNS = 92.0, 2
METHOD = (
    "Shaded: within it a day cannot be told apart from the first. Half width t \u00d7 \u221a2 \u00d7 s: s is how far"
    " this person's own days scatter about a straight line, t Student's (minimal detectable change; Weir, 2005, J"
    " Strength Cond Res 19:231, from memory); never less than the instrument's doubt of a difference. Sessions on one"
    " day count as their mean. A real change is no permission."
)
_FEW = f"Which change would be a real one is not known yet: that takes {LEAST_DAYS} days or more."


@dataclass(frozen=True, slots=True)
class Line:
    """The course of one figure; days that several sessions were on count as one."""

    name: str
    unit: str
    course: Course

    @property
    def title(self) -> str:
        """Its name, as it begins a sentence."""
        return f"{self.name[:1].upper()}{self.name[1:]}"

    @property
    def points(self) -> tuple[tuple[float, float], ...]:
        """Days since 1970-01-01 with values."""
        return tuple((number_of(one.day), one.value) for one in self.course.days)


def lines_of(sittings: Sequence[Sitting], injured: Side, *, to_exhaustion: bool = False) -> tuple[Line, ...]:
    """Return the figures that `sittings` have on two days or more, the most telling first: both legs' or the injured
    one's."""
    names = [name for name in ORDER if to_exhaustion or name not in PRESCRIBED]
    lines = [line for name in names for line in _line(name, sittings, injured) if len(line.course.days) > 1]
    is_decided = any(line.name in (LOWERING, HELD) for line in lines)
    return tuple(line for line in lines if not (is_decided and line.name == MEAN_SHARE))[:MOST_SHOWN]


def _line(name: str, sittings: Sequence[Sitting], injured: Side) -> Iterator[Line]:
    pairs = [(sitting.day, figure) for sitting in sittings for figure in sitting.figures]
    mine = [(day, figure) for day, figure in pairs if figure.name == name and figure.side in (None, injured)]
    if not mine:
        return
    unit = mine[0][1].unit
    course = course_of([Repeat(day, figure.value, figure.u or 0.0) for day, figure in mine], extent_of(unit))
    if course is not None:
        yield Line(name, unit, course)


def trend_section(
    sittings: Sequence[Sitting], injured: Side, *, to_exhaustion: bool = False, later: int = 0
) -> Section | None:
    """Return the trend over the sessions of one task; None where they are of one day.

    later: so many later ones are left out.
    """
    lines = lines_of(sittings, injured, to_exhaustion=to_exhaustion)
    if not lines:
        return None
    title = "Trend over the sessions of this task"
    wide = draw_panels(trend_panels(lines, _COLUMNS), title, WIDE, HEIGHT, _COLUMNS)
    narrow = draw_panels(trend_panels(lines, _COLUMNS), title, NARROW, HEIGHT)
    until = f", up to the day of this session; {count_of(later, 'later one')} left out" if later else ""
    count = f"{len(sittings)} sessions of this task on {len({one.day for one in sittings})} days{until}."
    picture = Picture(wide, " ".join((count, *map(_say, lines))), "trend", narrow=narrow)
    notes = (METHOD if any(line.course.band for line in lines) else _FEW,)
    return Section("Over the sessions", pictures=(picture,), notes=notes)


def trend_panels(lines: Sequence[Line], columns: int = 1) -> list[Panel]:
    """Return a panel of each figure, all over the same days, to be drawn so many beside each other."""
    span = padded([x for line in lines for x, _y in line.points], 6.0, 0.04)
    return [_panel(line, span, columns) for line in lines]


def _panel(line: Line, span: tuple[float, float], columns: int) -> Panel:
    band = line.course.band
    low, high = padded([*(y for _x, y in line.points), *(band or ())], 1.0)
    # none of these figures is ever below 0
    y_range = max(0.0, low), high
    series = Series("", Mark.SQUARE, line.points, joined=True)
    ticks = day_ticks(*span, most=6 // columns)
    ribbons = () if band is None else (Ribbon.level(span, band),)
    return Panel(line.title, "date", line.unit, (series,), span, y_range, x_ticks=ticks, ribbons=ribbons)


def _say(line: Line) -> str:
    course, unit = line.course, f" {line.unit}".rstrip()
    values = f"{line.title}: from {fixed(course.days[0].value, 1)} to {fixed(course.days[-1].value, 1)}{unit}"
    if course.mdc is None:
        return f"{values}."
    verdict = "a real change" if course.days[-1].is_change else "no real change"
    step = " points" if line.unit == "%" else unit
    limited = ": so much the instrument leaves in doubt" if course.by_instrument else ""
    return f"{values}, {verdict} (it takes {fixed(course.mdc, 1)}{step}{limited})."
