"""Getting started as it is painted: every step, in both themes, with nothing cut and nothing over another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor

from weightshare.model import Side
from weightshare.practice import startwords as words
from weightshare.practice.screen import Shape
from weightshare.practice.startview import StartRow, StartStep, StartView
from weightshare.scales.finder import Way
from weightshare.window.lettering import Line
from weightshare.window.startdraw import GAP, SENSOR, STOP, Drawing
from weightshare.window.startform import sole_of
from weightshare.window.startpaint import StartPaint
from weightshare.window.theme import LIGHT, Theme

LONG = "A scale with a name as long as scales may have"
HOW = f"by Bluetooth{words.DOT}signal very weak{words.DOT}store-bought: shows a weight once it has settled; no hold"
NO_AIR = words.no_air("this computer's Bluetooth service does not run; install what Debian calls bluez, and start it")
FOUND = StartRow(
    LONG, (HOW, f"connected{words.DOT}battery 3.9 V{words.DOT}{words.SHINING}"), Shape.DISC, 3, picked=True
)
CHECKED = StartRow(
    f"Left: {LONG}",
    (
        f"battery 3.3 V: low, charge it soon{words.DOT}signal very weak{words.DOT}the battery is low: charge it",
        f"not still: 7.5 N of noise; does something touch it, or the other plate?{words.DOT}counting \u2026",
        "calibration was valid until 2026-11-20: calibrate anew (C)",
    ),
    Shape.DIAMOND,
    1,
    marked=True,
)
VIEWS = {
    "nothing yet": StartView(words=(words.LOOKING,), headline=words.FIND_HEADLINE, hint=words.FIND_HINT),
    "found": StartView(
        headline=words.FIND_HEADLINE,
        words=words.FIND_WORDS,
        rows=(FOUND, replace(FOUND, marked=True, picked=False), FOUND, FOUND, FOUND, FOUND),
        notes=(NO_AIR, words.passed_over([])),
        key=words.GO_ON,
        hint=words.FIND_HINT,
    ),
    "not a pair": StartView(
        headline=words.FIND_HEADLINE,
        words=words.FIND_WORDS,
        rows=(FOUND, FOUND),
        trouble=words.count_words(3, 2),
        hint=words.FIND_HINT,
    ),
    "press": StartView(
        StartStep.SIDES,
        words.PRESS,
        (words.SIT, words.PRESS_WORDS, words.SAME_SIDE.format(side="left")),
        (replace(FOUND, bars=None), replace(FOUND, bars=None)),
        trouble=words.WHY_NOT[StartStep.SIDES],
        hint=words.VIRTUAL_HINT + words.SIDES_HINT,
        pressing=True,
    ),
    "swapped": StartView(StartStep.SIDES, words.SWAPPED, (words.SIT, words.SWAPPED_WORDS), (FOUND, FOUND)),
    "both": StartView(StartStep.SIDES, words.RESTLESS, (words.SIT, words.BOTH_UP), (FOUND, FOUND)),
    "check": StartView(
        StartStep.CHECK,
        words.CHECK_HEADLINE,
        words.CHECK_WORDS,
        (CHECKED, CHECKED),
        trouble=words.WHY_NOT[StartStep.CHECK],
        hint=words.CHECK_HINT,
    ),
    "place": StartView(
        StartStep.PLACE,
        words.PLACE_HEADLINE,
        words.PLACEMENT,
        trouble="The right sole: a number of millimetres, 0 to 100, or nothing.",
        key=words.GO_ON,
        hint=words.PLACE_HINT,
    ),
    "ready": StartView(
        StartStep.READY, words.READY_HEADLINE, words.READY_WORDS, (CHECKED, CHECKED), key=words.PRACTISE
    ),
    "known": StartView(
        headline=words.KNOWN_LOOKING,
        words=words.KNOWN_STRAIGHT_WORDS,
        rows=tuple(
            StartRow(f"{side}: {LONG}", (f"by Bluetooth{words.DOT}{words.NOT_YET[Way.AIR]}",))
            for side in ("Left", "Right")
        ),
        trouble=NO_AIR,
        hint=words.LOOKING_HINT,
        looking=True,
    ),
}


@pytest.fixture
def paint(theme: Theme) -> Iterator[StartPaint]:
    made = StartPaint(theme)
    yield made
    made.deleteLater()


def spoken(lines: list[Line]) -> str:
    return " ".join(" ".join(line.text for line in lines).split())


@pytest.mark.parametrize("name", VIEWS)
@pytest.mark.parametrize("whole", [(1366, 768), (1920, 1080)], ids=lambda size: f"{size[0]}")
def test_no_line_is_cut_or_lies_over_another(paint: StartPaint, whole: tuple[int, int], name: str) -> None:
    view = VIEWS[name]
    paint.resize(*whole)
    paint.show_view(view)
    paint.grab()
    lines = [line for line in paint.lines() if line.text]
    for line in lines:
        assert paint.rect().toRectF().contains(line.bounds()), f"{line.name} leaves the page"
        assert line.room.adjusted(-2, -1000, 2, 1000).contains(line.bounds()), f"{line.name} is too wide"
        assert line.pixel_size >= 12, f"{line.name} is too small to be read at the desk"
    for one, other in combinations(lines, 2):
        assert not one.bounds().intersects(other.bounds()), f"{one.name} lies over {other.name}"
    said = spoken(lines).replace("\u2013 ", "")
    for text in (view.headline, *view.words, *view.notes, view.trouble, view.hint):
        assert " ".join(text.split()) in said, f"cut: {text}"


@pytest.mark.parametrize("name", ["found", "check", "known"])
def test_cards_hold_their_words_and_stay_above_what_stands_in_the_way(paint: StartPaint, name: str) -> None:
    paint.resize(1366, 768)
    paint.show_view(VIEWS[name])
    lines = paint.lines()
    for index, card in enumerate(paint._cards):
        for line in lines:
            if line.name.startswith(f"card {index}"):
                assert card.room.contains(line.bounds()), f"{line.name} leaves its card"
    foot = min(line.bounds().top() for line in lines if line.name.startswith(("trouble", "hint")) and line.text)
    assert paint._cards[-1].room.bottom() < foot


def test_the_marked_one_is_among_the_cards_however_many_there_are(paint: StartPaint) -> None:
    paint.resize(1366, 768)
    rows = [replace(FOUND, title=f"scale {number}", picked=False) for number in range(9)]
    for at in range(9):
        shown = tuple(replace(row, marked=index == at) for index, row in enumerate(rows))
        paint.show_view(StartView(rows=shown))
        said = [line.text for line in paint.lines()]
        assert f"scale {at}" in said
        assert any(line.endswith("of 9; \u2191 \u2193 show the others") for line in said)


def test_the_drawing_says_where_things_stand(paint: StartPaint) -> None:
    paint.resize(1366, 768)
    paint.show_view(VIEWS["place"])
    said = {line.text: line for line in paint.lines()}
    for text in (GAP, STOP, SENSOR, "screen at eye height", "rail", "chair", "hard, level floor"):
        assert text in said
    left, right = (said[side].bounds() for side in ("left", "right"))
    assert left.right() < right.left(), "the left foot is on the left"
    words_end = max(line.bounds().right() for line in paint.lines() if line.name.startswith("words"))
    assert words_end < said["From above"].bounds().left(), "the words stay beside the drawing"


def test_the_foot_that_is_to_press_is_filled_and_the_other_is_not(theme: Theme) -> None:
    paint = StartPaint(theme)
    paint.resize(1366, 768)
    paint.show_view(VIEWS["press"])
    image = paint.grab().toImage()
    drawing = paint.drawing
    colours = [QColor(image.pixel(drawing._plate(side).center().toPoint())).name() for side in Side]
    assert colours == [theme.laid, theme.raised]
    paint.deleteLater()


def test_the_drawing_fits_its_room() -> None:
    for step in StartStep:
        room = QRectF(700, 120, 600, 500)
        for line in Drawing(room, LIGHT, step).lines():
            assert room.adjusted(-1, -1, 1, 1).contains(line.bounds()), line.name


@pytest.mark.parametrize(
    ("text", "sole_mm"), [("", None), (" 24 ", 24.0), ("24,5", 24.5), ("30 mm", 30.0), ("0", 0.0), ("100", 100.0)]
)
def test_a_sole_is_read_as_it_is_written(text: str, sole_mm: float | None) -> None:
    assert sole_of(text) == sole_mm


@pytest.mark.parametrize("text", ["thick", "-1", "101", "nan", "2 cm"])
def test_what_is_no_sole_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r".*"):
        sole_of(text)
