"""One criterion of a stage as a row: which measure, which way, the figures, and what is wrong with it."""

from __future__ import annotations

import re

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from weightshare.practice.message import retell
from weightshare.programme.criterion import ABOUT, MEANT_BY_TARGET, NEAR_TARGET, Measure
from weightshare.tongue import chosen, mark, say
from weightshare.window.editword import say_measure, unit_words

AT_LEAST, AT_MOST, BETWEEN, NEAR, OWN = "at least", "at most", "to", NEAR_TARGET, ""
WAYS = {
    AT_LEAST: mark("at least"),
    AT_MOST: mark("at most"),
    BETWEEN: mark("from \u2026 to"),
    NEAR: mark("near the target"),
}
TEXT_PX, WIDEST = 16, 16777215
"""Letters until the page has its size; Qt's word for a width without a limit."""
MOST_STRETCH = 255
WAY_PART, FIGURE_PART, FIGURES_PART = 9.5, 5.0, 16.0
"""How wide the columns are, in heights of the letters."""
_WRITTEN = (
    (re.compile(r"at least *(\S*)"), AT_LEAST),
    (re.compile(r"at most *(\S*)"), AT_MOST),
    (re.compile(r"(\S*) *\bto\b *(\S*)"), BETWEEN),
    (re.compile(NEAR_TARGET), NEAR),
)


def read_limit(words: str) -> tuple[str, tuple[str, ...]]:
    """Return which way a limit goes and its figures, as they are typed; the words themselves where it is none."""
    for form, way in _WRITTEN:
        if found := form.fullmatch(words.strip()):
            return way, found.groups()
    return OWN, (words,)


def write_limit(way: str, figures: tuple[str, ...]) -> str:
    """Return the limit as the file has it."""
    first, *rest = (figure.strip().replace(",", ".") for figure in figures)
    if way == BETWEEN:
        return f"{first} to {rest[0]}"
    return NEAR_TARGET if way == NEAR else f"{way} {first}" if way else figures[0].strip()


class StillBox(QComboBox):
    """A choice with a mark that it is one; the wheel scrolls what it stands in, and changes nothing."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave it to the page."""
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the field, and the mark at its right end."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(self.palette().text())
        painter.setPen(Qt.PenStyle.NoPen)
        half, x, y = self.height() / 8.0, self.width() - self.height() / 2.0, self.height() / 2.0
        painter.drawPolygon([QPointF(x - half, y - half / 2), QPointF(x + half, y - half / 2), QPointF(x, y + half)])
        painter.end()


class CriterionRow(QWidget):
    """One criterion: which measure, which way, the figures; what is wrong with it beneath."""

    changed = Signal()
    removed = Signal(object)

    def __init__(self, name: str, words: str) -> None:
        super().__init__()
        self.name = name
        self.measure, self.way = StillBox(), StillBox()
        self.first, self.second, self.unit, self.wrong = QLineEdit(), QLineEdit(), QLabel(), QLabel()
        self.to, self.remove = QLabel("\u2013"), QPushButton("\u2715")
        self.measure.setAccessibleName(say("What is measured"))
        self.measure.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.measure.setMinimumContentsLength(12)
        for tell in (self.remove.setAccessibleName, self.remove.setToolTip):
            tell(say("Take this criterion away"))
        self.wrong.setObjectName("hint")
        self.wrong.setProperty("wrong", "true")
        self.wrong.setWordWrap(True)
        self._text_px = TEXT_PX
        # laid out first: what is shown without a parent is a window of its own
        self._lay_out()
        way, figures = read_limit(words)
        self._offer((), name)
        self._offer_ways(way)
        self._show_figures(way, figures)
        self._connect()

    def _lay_out(self) -> None:
        self._figures, line = QWidget(), QHBoxLayout()
        figures = QHBoxLayout(self._figures)
        for one in (self.first, self.to, self.second, self.unit):
            figures.addWidget(one)
        figures.addStretch(1)
        for widget in (self.measure, self.way, self._figures, self.remove):
            line.addWidget(widget)
        column = QVBoxLayout(self)
        for layout in (figures, line, column):
            layout.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(line)
        column.addWidget(self.wrong)
        self._line, self._inner = line, figures

    def _connect(self) -> None:
        self.measure.activated.connect(lambda _index: self._choose())
        self.way.activated.connect(lambda _index: self._turn())
        for box in (self.first, self.second):
            box.textEdited.connect(lambda _words: self.changed.emit())
        self.remove.clicked.connect(lambda _checked: self.removed.emit(self))

    @property
    def words(self) -> str:
        """The limit as the file has it."""
        return write_limit(str(self.way.currentData() or ""), (self.first.text(), self.second.text()))

    def _choose(self) -> None:
        """Another measure: its way and unit with it."""
        self.name, way = str(self.measure.currentData()), str(self.way.currentData() or "")
        self._offer_ways(way)
        self._show_figures(str(self.way.currentData() or ""), (self.first.text(), self.second.text()))
        self.changed.emit()

    def _turn(self) -> None:
        self._show_figures(str(self.way.currentData() or ""), (self.first.text(), self.second.text()))
        self.changed.emit()

    def _offer_ways(self, way: str) -> None:
        """Offer the ways in which the measure can be limited; words of one's own for what is judged."""
        offered = [AT_LEAST, AT_MOST, BETWEEN] + [NEAR] * (self.name in MEANT_BY_TARGET)
        offered = [] if self.name == Measure.CLINICIAN else offered
        self.way.clear()
        for one in offered:
            self.way.addItem(say(WAYS[one]), one)
        if way not in offered:
            self.way.insertItem(0, say("in words"), OWN)
        self.way.setCurrentIndex(max(0, self.way.findData(way)))

    def _show_figures(self, way: str, figures: tuple[str, ...]) -> None:
        is_words = way == OWN
        for box, text in zip((self.first, self.second), (*figures, "", "")[:2], strict=True):
            box.setText(text if is_words else text.replace(".", chosen().decimal))
            box.home(False)
        about = ABOUT[Measure(self.name)] if self.name in list(Measure) else None
        self.first.setVisible(way != NEAR)
        self.second.setVisible(way == BETWEEN)
        self.to.setVisible(way == BETWEEN)
        self.way.setVisible(self.name != Measure.CLINICIAN)
        self.unit.setText(unit_words(about.unit) if about is not None and not is_words and way != NEAR else "")
        span = "" if about is None or is_words else f"{about.low:g}\u2013{about.high:g}"
        for box in (self.first, self.second):
            box.setPlaceholderText(span)
        self._fit()

    def fit(self, text_px: int) -> None:
        """Have the columns of all rows in line, with letters of `text_px`."""
        self._text_px = text_px
        self._fit()

    def _fit(self) -> None:
        text, is_words = self._text_px, self.way.currentData() == OWN
        figure = round(text * FIGURE_PART)
        self.way.setFixedWidth(round(text * WAY_PART))
        self.second.setFixedWidth(figure)
        self.first.setMinimumWidth(figure)
        self.first.setMaximumWidth(WIDEST if is_words else figure)
        self._figures.setMinimumWidth(0 if is_words else round(text * FIGURES_PART))
        self._figures.setMaximumWidth(WIDEST if is_words else round(text * FIGURES_PART))
        # words of one's own have all the room that there is
        self._line.setStretch(0, 0 if is_words else 1)
        self._line.setStretch(2, 1 if is_words else 0)
        self._inner.setStretch(0, MOST_STRETCH if is_words else 0)
        self.measure.setMinimumWidth(round(text * FIGURES_PART))
        self.unit.setVisible(not is_words)
        self.remove.setFixedWidth(text * 2)

    def _offer(self, measures: tuple[Measure, ...], name: str) -> None:
        """Offer `measures`, and the one that stands there whatever it is."""
        if self.measure.count() and [self.measure.itemData(row) for row in range(self.measure.count())] == [
            *map(str, measures),
            *([name] if name not in measures else []),
        ]:
            return
        self.measure.clear()
        for one in measures:
            self.measure.addItem(say_measure(one), str(one))
        if name not in measures:
            self.measure.addItem(say_measure(Measure(name)) if name in list(Measure) else name, name)
        self.measure.setCurrentIndex(self.measure.findData(name))

    def show_state(self, measures: tuple[Measure, ...], wrong: str) -> None:
        """Offer `measures`, and say what is wrong."""
        self._offer(measures, self.name)
        figures = [box for box in (self.first, self.second) if not box.isHidden()]
        is_empty = bool(wrong) and not all(box.text().strip() for box in figures)
        self.wrong.setText(say("Something is still to be typed here.") if is_empty else retell(wrong))
        self.wrong.setVisible(bool(wrong))
