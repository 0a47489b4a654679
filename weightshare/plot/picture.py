"""The pictures: the course of a session, its repetitions over each other, trends, the two sides."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from weightshare.errors import RecordError
from weightshare.metrology.index import Index
from weightshare.model import Floats
from weightshare.plot.canvas import Picture, draw
from weightshare.records.export.saved import SavedSession
from weightshare.records.export.trend import Trend
from weightshare.report.account import Account
from weightshare.report.chart import Panel, Ribbon, Series, padded
from weightshare.report.drawing import Mark
from weightshare.report.strip import MOST_STRIPS, course_panels, envelope
from weightshare.report.trend import Line, trend_panels

BEFORE = "seconds from where the lowering begins"
AROUND_S = 0.5
"""So much before and after a repetition is drawn with it."""


def course(session: SavedSession, most: int = MOST_STRIPS) -> Picture:
    """Return the share of a session over time against its band, with holds and repetitions; `most` strips at most.

    A set of repetitions is a strip of its own. In supported work it is the load on the injured side.
    """
    account = Account(session.replayed, session.appraisal, diary=session.diary)
    return draw(course_panels(account, most), "Course of the session")


def repetitions(session: SavedSession) -> Picture:
    """Return all repetitions of a session over each other, from where each lowering begins: the injured side's share
    against the band, and below it the injured side's heel where that was measured.

    Raises RecordError where no repetition counted.
    """
    rows = [one for one in session.analysis.repetitions if one.lowering_s is not None]
    if not rows:
        raise RecordError(f"{session.folder}: no repetition counted in it: there is nothing to lay over each other")
    columns, side = session.columns(), session.settings.injured
    panels = [_pile(session, columns["share_percent"], f"share on the {side} side, %", _band(session))]
    height = columns.get(f"{side}_heel_height_mm")
    if height is not None:
        panels.append(_pile(session, height, f"{side} heel, mm", None))
    return draw(panels, "Repetitions over each other")


def _pile(session: SavedSession, values: Floats, name: str, band: tuple[float, float] | None) -> Panel:
    curves = list(_curves(session, values))
    x = [point[0] for curve in curves for point in curve] or [0.0]
    y = [point[1] for curve in curves for point in curve]
    x_range, y_range = (min(x), max(x) + 1e-9), padded([*y, *(band or ())], 10.0, 0.08)
    ribbons = () if band is None else (Ribbon.level((0.0, x_range[1]), band),)
    count = len(session.analysis.repetitions)
    title = f"{count} repetition{'' if count == 1 else 's'} over each other: {name}"
    return Panel(
        title, BEFORE, name, (), x_range, y_range, marks_at=((0.0, ""),), ribbons=ribbons, curves=tuple(curves)
    )


def _curves(session: SavedSession, values: Floats) -> Iterator[tuple[tuple[float, float], ...]]:
    time_s = session.trace.time_s
    for one in session.analysis.repetitions:
        if one.start_s is None or one.end_s is None or one.lowering_s is None:
            continue
        rows = slice(*np.searchsorted(time_s, (one.start_s - AROUND_S, one.end_s + AROUND_S)).tolist())
        yield from envelope(time_s[rows] - one.lowering_s, values[rows])


def _band(session: SavedSession) -> tuple[float, float] | None:
    """Return the band of the lowering; None without a target, and in work on one leg, whose band follows the leg."""
    return None if session.settings.is_single else session.settings.band_percent


def trend(trends: Trend | Iterable[Trend]) -> Picture:
    """Return how figures went over the days, each with its band of no real change where four days allow one.

    Raises RecordError where there is none.
    """
    chosen = [trends] if isinstance(trends, Trend) else list(trends)
    if not chosen:
        raise RecordError("there is no trend to draw: it takes sessions of one task on two days or more")
    return draw(trend_panels([Line(one.figure, one.unit, one.course) for one in chosen]), "Trend over the sessions")


def symmetry(indices: Sequence[Index]) -> Picture:
    """Return the limb symmetry index of each measure with its uncertainty (k = 2); 100 is even.

    Measures whose index would mislead are left out. Raises RecordError where that leaves none.
    """
    told = [(str(one.kind), one.limb_symmetry_index) for one in indices if not one.reason]
    known = [(name, one) for name, one in told if one is not None and math.isfinite(one.value)]
    if not known:
        why = next((one.reason for one in indices if one.reason), "nothing of the two sides was measured")
        raise RecordError(f"there is no symmetry to draw: {why}")
    points = tuple((float(place), one.value) for place, (_name, one) in enumerate(known))
    bars = tuple(2.0 * one.u for _name, one in known)
    ends = [y + way * (half if math.isfinite(half) else 0.0) for (_x, y), half in zip(points, bars, strict=True)
            for way in (-1.0, 1.0)]  # fmt: skip
    panel = Panel(
        "Limb symmetry index: 100 \u00d7 injured / other",
        "",
        "%",
        (Series("bars: k = 2", Mark.SQUARE, points, bars),),
        (-0.6, len(known) - 0.4),
        padded([*ends, 100.0], 20.0),
        rules=((100.0, "even"),),
        x_ticks=tuple((float(place), name) for place, (name, _one) in enumerate(known)),
    )
    return draw([panel], "The two sides")
