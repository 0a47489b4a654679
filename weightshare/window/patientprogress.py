"""How a patient's figures went over the days: one after the other, each against its band of no real change."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QListWidget, QVBoxLayout, QWidget

from weightshare.practice.message import retell
from weightshare.records.store.progress import Progress
from weightshare.report.chart import Panel, Ribbon, Series, day_ticks, draw_panels, number_of, padded
from weightshare.report.drawing import Drawing, Mark
from weightshare.report.history import History
from weightshare.report.overview import overview_picture
from weightshare.report.trend import ORDER, PRESCRIBED
from weightshare.tongue import mark, say
from weightshare.window.patientcourse import (
    say_adherence,
    say_course,
    say_limit,
    say_pain,
    say_scales,
    say_stretches,
    say_trend,
)
from weightshare.window.patientdraw import DrawingView
from weightshare.window.patientwords import DOT
from weightshare.window.theme import Theme

NONE = mark("Nothing was done alike on two days yet: then figures can be held against each other.")
READING = mark("Each session is read \u2026")
BAND = mark(
    "Shaded: within this band about the first day a later one cannot be told apart from it. It comes from this"
    " patient's own days (minimal detectable change). A real change is one of what was measured, and no permission."
)
WIDE, HIGH = 520.0, 300.0


def draw_course(one: Progress) -> Drawing:
    """Return one figure day by day, with its band of no real change."""
    course = one.course
    points = tuple((number_of(day.day), day.value) for day in course.days)
    span = padded([x for x, _y in points], 6.0, 0.04)
    low, high = padded([*(y for _x, y in points), *(course.band or ())], 1.0)
    ribbons = () if course.band is None else (Ribbon.level(span, course.band),)
    panel = Panel(
        say("{figure:C}", figure=say(one.figure)),
        say("date"),
        one.unit,
        (Series(say("a day"), Mark.SQUARE, points, joined=True),),
        span,
        # no figure here is ever below 0
        (max(0.0, low), high),
        x_ticks=day_ticks(*span, most=5),
        ribbons=ribbons,
    )
    return draw_panels([panel], f"{retell(one.task)}: {say(one.figure)}", WIDE, HIGH)


def in_order(trends: Sequence[Progress]) -> tuple[Progress, ...]:
    """Return the newest task's figures first, the most telling of each before others, the injured side's before."""
    newest = {one.task: place for place, one in enumerate(trends)}
    telling = {name: place for place, name in enumerate(ORDER)}

    def key(one: Progress) -> tuple[int, int, int, bool]:
        own = one.side not in (None, one.injured)
        is_prescribed = one.figure in PRESCRIBED or bool(one.note)
        return -newest[one.task], int(is_prescribed), telling.get(one.figure, len(ORDER)), own

    return tuple(sorted(trends, key=key))


class ProgressTab(QWidget):
    """A list of figures, and the chosen one as a picture."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.trends: tuple[Progress, ...] = ()
        self._theme = theme
        self.list, self.picture = QListWidget(), DrawingView(theme)
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.said, self.method = QLabel(), QLabel(say(BAND))
        self.method.setObjectName("hint")
        right = QVBoxLayout()
        for widget in (self.said, self.picture, self.method):
            right.addWidget(widget, 1 if widget is self.picture else 0)
        for label in (self.said, self.method):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.list, 2)
        row.addLayout(right, 3)
        self.list.currentRowChanged.connect(self._show)

    def show_trends(self, trends: tuple[Progress, ...], theme: Theme) -> None:
        """Show these, the newest task's first."""
        self.trends, self._theme = in_order(trends), theme
        self.list.clear()
        self.list.addItems([say_trend(one) for one in self.trends])
        self.method.setVisible(bool(trends))
        self.said.setText("" if trends else say(NONE))
        self.picture.show_drawing(None, theme)
        if trends:
            self.list.setCurrentRow(0)

    def _show(self, row: int) -> None:
        if 0 <= row < len(self.trends):
            self.said.setText(say_course(self.trends[row]))
            self.picture.show_drawing(draw_course(self.trends[row]), self._theme)


class WeeksTab(QWidget):
    """All of the weeks as one picture, and in words: practice, pain, limits of load, scales."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.said, self.picture = QLabel(say(READING)), DrawingView(theme)
        self.said.setWordWrap(True)
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        self.said.setAlignment(Qt.AlignmentFlag.AlignTop)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.picture, 5)
        row.addWidget(self.said, 3)

    def show_history(self, history: History | None, theme: Theme, trouble: str = "") -> None:
        """Show it; None: it is not read yet, or `trouble` says why it will not be."""
        if history is None:
            self.said.setText(retell(trouble) or say(READING))
            self.picture.show_drawing(None, theme)
            return
        today = history.days[-1] if history.days else None
        scales = "" if today is None else say_scales(history, today)
        told = say_adherence(history), say_pain(history), say_limit(history), scales
        parts = (*told, say_stretches(history), *history.left_out)
        self.said.setText("\n\n".join(part for part in parts if part))
        self.picture.show_drawing(overview_picture(history, WIDE) if history.days else None, theme)


def say_trail(at: str, who: str, what: str, detail: str) -> str:
    """Return one entry of the trail as a line."""
    return DOT.join(part for part in (at[:19].replace("T", " "), who, f"{what} {detail}".strip()) if part)
