"""How a patient's figures went over the days: one after the other, each against its band of no real change."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QListWidgetItem, QVBoxLayout, QWidget

from weightshare.practice.message import retell
from weightshare.records.store.progress import Progress
from weightshare.report.chart import Panel, Ribbon, Series, day_ticks, draw_panels, number_of, padded
from weightshare.report.drawing import Drawing, Mark
from weightshare.report.history import History
from weightshare.report.overview import overview_picture
from weightshare.tongue import mark, say
from weightshare.window.patientcourse import (
    rows_of,
    say_adherence,
    say_course,
    say_limit,
    say_pain,
    say_scales,
    say_stretches,
    say_task,
    say_trend,
)
from weightshare.window.patientdraw import DrawingView
from weightshare.window.patienttable import TaskList
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
    return draw_panels([panel], f"{say_task(one)}: {say(one.figure)}", WIDE, HIGH)


class ProgressTab(QWidget):
    """A list of figures, task by task, and the chosen one as a picture."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.trends: tuple[Progress, ...] = ()
        self.rows: tuple[Progress | str, ...] = ()
        """What each row of the list is: a task, which cannot be chosen, or one of its figures."""
        self._theme = theme
        self.list, self.picture = TaskList(), DrawingView(theme)
        self.every = QCheckBox(say("&All figures, of both sides"))
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
        left = QVBoxLayout()
        left.addWidget(self.list)
        left.addWidget(self.every)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addLayout(left, 2)
        row.addLayout(right, 3)
        self.list.currentRowChanged.connect(self._show)
        self.every.toggled.connect(lambda _on: self._fill())

    def show_trends(self, trends: tuple[Progress, ...], theme: Theme) -> None:
        """Show these, the newest task's first."""
        self.trends, self._theme = trends, theme
        self.every.setVisible(bool(trends))
        self.method.setVisible(bool(trends))
        self.said.setText("" if trends else say(NONE))
        self.picture.show_drawing(None, theme)
        self._fill()

    def _fill(self) -> None:
        """List what is to be seen; the figure that was chosen stays chosen where it is among it."""
        place = self.list.currentRow()
        chosen = self.rows[place] if 0 <= place < len(self.rows) else None
        self.rows = rows_of(self.trends, every=self.every.isChecked())
        self.list.clear()
        for one in self.rows:
            self.list.addItem(self._item(one))
        self.list.fit_rows()
        figures = [row for row, one in enumerate(self.rows) if isinstance(one, Progress)]
        if figures:
            self.list.setCurrentRow(next((row for row in figures if self.rows[row] is chosen), figures[0]))

    def _item(self, one: Progress | str) -> QListWidgetItem:
        if isinstance(one, Progress):
            return QListWidgetItem(f"    {say_trend(one)}")
        item = QListWidgetItem(one)
        item.setFlags(Qt.ItemFlag.NoItemFlags)
        font = item.font()
        font.setBold(True)
        item.setFont(font)
        return item

    def _show(self, row: int) -> None:
        one = self.rows[row] if 0 <= row < len(self.rows) else None
        if isinstance(one, Progress):
            self.said.setText(say_course(one))
            self.picture.show_drawing(draw_course(one), self._theme)
        if row == 1:
            # the task over it cannot be moved to
            self.list.scrollToTop()


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
