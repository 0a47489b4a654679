"""How the scale in use stands: its calibration, the ones before, and what was logged of its drift."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from weightshare.errors import CalibrationError
from weightshare.model import Calibration
from weightshare.practice.message import retell
from weightshare.practice.screen import Shape
from weightshare.practice.tale import MONTHS
from weightshare.tongue import mark, say
from weightshare.window import lettering
from weightshare.window.benchdrift import KEYS, DriftPlot, Sheet, mismatch_plot, zero_plot
from weightshare.window.benchgrid import FigureGrid
from weightshare.window.benchsheet import KEY_HIGH, BenchSheet
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme

if TYPE_CHECKING:
    from weightshare.records.bench import History, Kept
    from weightshare.records.drift import Drift

NOT_KNOWN = mark("No calibration of this scale is known here.")
NO_FIGURES = mark("No figures are kept with it: it was not made by a guided calibration on this machine.")
SOON_DAYS = 30
"""So many days before its end a calibration is said to end soon (common practice, no source)."""
MOST_BEFORE = 6
TABLE_PART = 0.60
ROW, HEAD_PART = 1.35, 0.058


@dataclass(frozen=True, slots=True)
class ScaleState:
    """What is known of a scale on the day `today`; `trouble` says what of it could not be read."""

    calibration: Calibration
    today: date
    history: History
    drift: Drift
    trouble: tuple[str, ...] = ()

    @property
    def kept(self) -> Kept | None:
        """The calibration in use with all that it rests on; None where its file tells no more, or is elsewhere."""
        found = (kept for kept in reversed(self.history.kept) if kept.calibration == self.calibration)
        return next(found, None)


def state_of(calibration: Calibration, today: date) -> ScaleState:
    """Return what is kept of the scale of `calibration`; what cannot be read is said in `trouble`."""
    # what reads files is loaded when somebody asks: it would keep the window's first picture waiting
    from weightshare.records.bench import History, history
    from weightshare.records.drift import drift_of, make_drift

    device_id, trouble = calibration.device_id, list[str]()
    ours, drift = History(device_id, ()), make_drift(device_id, ())
    try:
        ours, drift = history(device_id), drift_of(device_id)
    except (CalibrationError, OSError) as error:
        trouble.append(str(error))
    if drift.damaged:
        trouble.append(
            say("{damaged} lines of the drift log could not be read, and are left out", damaged=drift.damaged)
        )
    return ScaleState(calibration, today, ours, drift, (*trouble, *ours.passed_over))


def spoken(day: date) -> str:
    """Return a date as it is said."""
    return say("{day} {month} {year}", day=day.day, month=say(MONTHS[day.month - 1]), year=day.year)


def validity_words(calibration: Calibration, today: date) -> tuple[Shape, str]:
    """Return in a mark and in words whether the calibration is still valid."""
    until = calibration.valid_until
    if until is None:
        return Shape.RING, say("Calibrated; no end was set")
    if until < today:
        return Shape.CROSS, say("Overdue: it was valid until {day}. Calibrate it anew", day=spoken(until))
    if (until - today).days <= SOON_DAYS:
        return Shape.DIAMOND, say("Valid until {day}: have it calibrated soon", day=spoken(until))
    return Shape.DISC, say("Calibrated, and valid until {day}", day=spoken(until))


class BenchScale(BenchSheet):
    """Paints the newest ScaleState, to be read at the desk."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(theme, parent)
        self.shown: ScaleState | None = None

    def show_state(self, state: ScaleState | None) -> None:
        """Show `state`; None: nothing is known."""
        self.shown = state
        self.refresh()

    def lay_out(self) -> list[Line]:
        """Return the lines of text for the newest state."""
        state, size = self.shown, self._px(HEAD_PART)
        if state is None:
            return [self._first_line(say(NOT_KNOWN), size)]
        head = self._first_line(validity_words(state.calibration, state.today)[1], size)
        plots = [line for plot in self._plots(state) for line in plot.lines()]
        grid = self._grid(state)
        table = grid.lines() if grid is not None else self._rows("none", [say(NO_FIGURES)], self._body().top())
        return [
            head,
            *self._rows("about", [_about(state)], head.room.bottom()),
            *table,
            *self._below(state),
            *plots,
            *self._keys(),
        ]

    def _grid(self, state: ScaleState) -> FigureGrid | None:
        kept, room = state.kept, self._body()
        if kept is None or kept.found is None:
            return None
        room.setBottom(room.bottom() - self._small() * ROW * 5)
        return FigureGrid(kept.found, room, self.theme, self._small())

    def _body(self) -> QRectF:
        top = self._margin() / 2 + self._px(HEAD_PART) * 1.25 + self._small() * 2.2
        return QRectF(self._margin(), top, self._wide() * TABLE_PART, self.height() - top - self._margin())

    def _below(self, state: ScaleState) -> list[Line]:
        """Lay what is to be told of it, and the calibrations before this one."""
        from weightshare.records.drift import drift_words

        grid = self._grid(state)
        top = (self._body().top() + self._small() * ROW if grid is None else grid.bottom) + self._small() * 0.6
        said = [*drift_words(state.drift), *state.trouble]
        lines = self._rows("caution", [f"\u25c6 {retell(text)}" for text in said], top, self.theme.outside)
        if lines:
            top = lines[-1].room.bottom()
        return [*lines, *self._rows("before", _before(state), top)]

    def _rows(self, name: str, texts: list[str], top: float, colour: str = "") -> list[Line]:
        size, room, ink = self._small(), self._body(), colour or self.theme.ink
        if name == "about":
            room.setWidth(self._wide())
        room.setTop(top)
        rows = [row for text in texts for row in lettering.wrap(text, size, room.width())]
        most = int(room.height() / (size * ROW))
        return [
            lettering.lay(f"{name} {index}", text, lettering.row_room(room, index, size * ROW), size, ink)
            for index, text in enumerate(rows[: max(0, most)])
        ]

    def _plots(self, state: ScaleState) -> list[DriftPlot]:
        beside, gap = self._beside(), self._small()
        high = (beside.height() - gap) / 2
        zero, mismatch = (
            Sheet(
                QRectF(beside.left(), beside.top() + place * (high + gap), beside.width(), high),
                self.theme,
                round(gap * 0.9),
            )
            for place in (0, 1)
        )
        return [zero_plot(state.drift, zero), mismatch_plot(state.drift, mismatch)]

    def _keys(self) -> list[Line]:
        """Lay what the marks of the plots mean."""
        room, size, quiet = self._beside(), round(self._small() * 0.9), self.theme.quiet
        room.setTop(room.bottom())
        return [
            lettering.lay(f"key {index}", text, lettering.row_room(room, index, size * ROW), size, quiet)
            for index, text in enumerate(map(say, KEYS))
        ]

    def _beside(self) -> QRectF:
        """Where the plots are: right of the table, above what their marks mean and the big key."""
        body = self._body()
        left = body.right() + 2 * self._small()
        bottom = self.height() * (1.0 - KEY_HIGH) - self._margin() - self._small() * 3.2
        return QRectF(left, body.top(), self._margin() + self._wide() - left, bottom - body.top())

    def paint_shapes(self, painter: QPainter) -> None:
        """Paint the mark, the table's lines, plots."""
        state = self.shown
        shape = Shape.RING if state is None else validity_words(state.calibration, state.today)[0]
        self._paint_first_mark(painter, shape, self._px(HEAD_PART))
        if state is not None:
            grid = self._grid(state)
            if grid is not None:
                grid.paint(painter)
            for plot in self._plots(state):
                plot.paint(painter)


def _about(state: ScaleState) -> str:
    made_by = say(" by {made_by}", made_by=state.kept.made_by) if state.kept is not None and state.kept.made_by else ""
    return say(
        "Scale {name}, calibrated on {day}{made_by}.",
        name=state.calibration.device_id,
        day=spoken(state.calibration.made_on),
        made_by=made_by,
    )


def _before(state: ScaleState) -> list[str]:
    """Return the calibrations before the one in use, the newest first."""
    before = [kept for kept in reversed(state.history.kept) if kept is not state.kept]
    if not before:
        return [say("No calibration before this one is kept.")]
    days = ", ".join(spoken(kept.calibration.made_on) for kept in before[:MOST_BEFORE])
    more = say(", and {count} more", count=len(before) - MOST_BEFORE) if len(before) > MOST_BEFORE else ""
    return [say("Before it, and kept: {days}{more}.", days=days, more=more)]
