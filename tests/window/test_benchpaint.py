"""The pages of a calibration as they are painted: nothing cut, nothing over another, and read from the plates."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QFontMetricsF, QImage
from PySide6.QtWidgets import QWidget

from tests.window.benching import all_views, asking, done, found, step
from tests.window.conftest import settle
from weightshare.metrology.reading import Going, Kind, Placement, Spot
from weightshare.model import Side
from weightshare.window import lettering
from weightshare.window.app import application
from weightshare.window.benchguide import BenchGuide, left_words
from weightshare.window.benchmass import masses_of
from weightshare.window.benchresult import BenchResult
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.workbench import wording
from weightshare.workbench.plan import Wanted, make_plan

SCREENS = [(1366, 768), (1920, 1080)]
LEAST_MM, PX_PER_MM = 11.0, 1366 / 345.4
"""A capital of 11 mm is read at three metres (tests/window/test_readable.py); a screen of 15.6 inches."""
VALID = "It is in force now, and valid until 25 November 2027."


@pytest.fixture(params=SCREENS, ids=lambda size: f"{size[0]}")
def host(request: pytest.FixtureRequest) -> Iterator[QWidget]:
    app = application()
    made = QWidget()
    made.resize(*request.param)
    yield made
    made.deleteLater()
    settle(app)


def guide(theme: Theme, host: QWidget) -> BenchGuide:
    made = BenchGuide(theme, host)
    made.setGeometry(host.rect())
    return made


def result(theme: Theme, host: QWidget) -> BenchResult:
    made = BenchResult(theme, host)
    made.setGeometry(host.rect())
    return made


def look_for_faults(widget: QWidget, lines: list[Line], name: str) -> None:
    for line in lines:
        assert "\u2026" not in line.text, f"{name}: {line.name} is cut: {line.text}"
        assert widget.rect().toRectF().contains(line.bounds()), f"{name}: {line.name} leaves the page"
        assert line.room.adjusted(-2, -1000, 2, 1000).contains(line.bounds()), f"{name}: {line.name} is too wide"
    for line, other in combinations(lines, 2):
        assert not line.bounds().intersects(other.bounds()), f"{name}: {line.name} lies over {other.name}"


def pixels(widget: QWidget) -> NDArray[np.uint8]:
    image = widget.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).copy()


def share_of(picture: NDArray[np.uint8], room: QRectF, colour: str) -> float:
    """Return which part of `room` has that colour."""
    wanted = QColor(colour)
    cut = picture[round(room.top()) : round(room.bottom()), round(room.left()) : round(room.right())]
    return float(np.mean(np.all(cut == (wanted.red(), wanted.green(), wanted.blue()), axis=-1)))


@pytest.mark.parametrize("kind", list(all_views()))
def test_no_step_is_cut_or_lies_over_another(theme: Theme, host: QWidget, kind: str) -> None:
    page = guide(theme, host)
    for asks in (False, True):
        page.show_view(all_views()[kind], asks=asks)
        look_for_faults(page, page.lines(), kind)
        page.grab()


def test_what_to_do_is_read_at_three_metres(theme: Theme, host: QWidget) -> None:
    page = guide(theme, host)
    for kind, view in all_views().items():
        page.show_view(view)
        lines = [line for line in page.lines() if line.name.startswith("headline")]
        assert " ".join(line.text for line in lines) == (view.headline or ("It could not begin" * (kind == "failed")))
        high = [QFontMetricsF(lettering.font(line.pixel_size, True)).capHeight() for line in lines]
        assert all(one >= LEAST_MM * PX_PER_MM * host.height() / 768 for one in high), kind


def test_whatever_a_step_asks_for_is_read_from_the_plates(theme: Theme, host: QWidget) -> None:
    page, masses = guide(theme, host), masses_of("2.5, 5, 10, 20, 20", "M1")
    asks = make_plan(Wanted(masses))
    before: Placement | None = None
    for number, ask in enumerate(asks, 1):
        if before is not None and before.side is not ask.placement.side:
            before = None
        said = wording.headline(ask, before, masses)
        page.show_view(asking(ask=ask, headline=said, number=number, steps=len(asks), trouble=wording.wrong_plate(ask)))
        look_for_faults(page, page.lines(), said)
        lines = [line for line in page.lines() if line.name.startswith("headline")]
        assert " ".join(line.text for line in lines) == said
        high = min(QFontMetricsF(lettering.font(line.pixel_size, True)).capHeight() for line in lines)
        assert high >= 0.8 * LEAST_MM * PX_PER_MM * host.height() / 768, said
        before = ask.placement


@pytest.mark.parametrize("side", list(Side))
@pytest.mark.parametrize("spot", list(Spot))
def test_the_weight_is_drawn_where_it_is_asked_for(theme: Theme, host: QWidget, side: Side, spot: Spot) -> None:
    page = guide(theme, host)
    page.show_view(asking(ask=step(Kind.CORNER, 20.0, spot, side), load_kg=(None, None)))
    drawing, picture = page._drawing(), pixels(page)
    for plate_side in Side:
        plate = drawing.plate(plate_side)
        half = QRectF(plate.left(), plate.top(), plate.width() / 2, plate.height() / 2)
        inked = {
            (x, y): share_of(picture, half.translated((x > 0) * half.width(), (y < 0) * half.height()), theme.inside)
            for x in (-1, 1)
            for y in (1, -1)
        }
        if plate_side is not side:
            assert max(inked.values()) == 0.0
        elif spot is Spot.MIDDLE:
            assert min(inked.values()) > 0.02
        else:
            assert max(inked, key=inked.__getitem__) == (spot.x_sign, spot.y_sign)
            assert sum(part > 0.01 for part in inked.values()) == 1


def test_on_and_off_are_told_apart_without_colour(theme: Theme, host: QWidget) -> None:
    page, ask = guide(theme, host), step()
    pictures = []
    for going in Going:
        page.show_view(asking(ask=replace(ask, placement=replace(ask.placement, going=going))))
        pictures.append(pixels(page))
    assert (pictures[0] != pictures[1]).any()
    weight = page._drawing().weight(ask)
    above = slice(round(weight.top() - weight.height() * 0.6), round(weight.top()))
    dark = [
        np.all(p[above, round(weight.left()) : round(weight.right())] == _rgb(theme.ink), axis=-1) for p in pictures
    ]
    widest = [int(np.argmax(found_here.sum(axis=1))) for found_here in dark]
    assert widest[0] > widest[1], "the head of the arrow is below for on, and above for off"


def _rgb(colour: str) -> tuple[int, int, int]:
    made = QColor(colour)
    return made.red(), made.green(), made.blue()


def test_progress_is_painted_and_told(theme: Theme, host: QWidget) -> None:
    page = guide(theme, host)
    page.show_view(all_views()["measure"])
    bar = page.step_bar()
    picture = pixels(page)
    assert share_of(picture, bar.adjusted(3, 3, -3, -3), theme.laid) == pytest.approx(0.6, abs=0.02)
    steps = next(line.text for line in page.lines() if line.name == "steps")
    assert steps.startswith("step 3 of ") and steps.endswith("about 22 min left")


def test_time_left_is_told_in_round_figures() -> None:
    assert [left_words(s) for s in (0.0, 12.0, 89.0, 91.0, 1290.0)] == [
        "",
        "about 20 s left",
        "about 90 s left",
        "about 2 min left",
        "about 22 min left",
    ]


def test_a_plate_whose_load_is_not_known_shows_none(theme: Theme, host: QWidget) -> None:
    page = guide(theme, host)
    page.show_view(all_views()["quarter"])
    told = {line.name: line.text for line in page.lines()}
    assert told["load"] == told["left load"][-1] == told["right load"][-1] == "\u2013"


def test_an_empty_plate_weighs_nothing_and_not_less(theme: Theme, host: QWidget) -> None:
    page = guide(theme, host)
    page.show_view(asking(load_kg=(-0.004, -0.31)))
    told = {line.name: line.text for line in page.lines()}
    assert (told["load"], told["left load"], told["right load"]) == ("0.0 kg", "left: 0.0 kg", "right: \u22120.3 kg")


def test_long_trouble_stays_above_the_key(theme: Theme, host: QWidget) -> None:
    page = guide(theme, host)
    page.show_view(asking(trouble=" ".join(["a person still stands on the left plate: step off"] * 4)))
    look_for_faults(page, page.lines(), "long")
    said = [line for line in page.lines() if line.name.startswith("trouble")]
    assert max(line.bounds().bottom() for line in said) < host.height() * 0.86


def test_the_result_is_whole(theme: Theme, host: QWidget) -> None:
    page = result(theme, host)
    place = "/kept/in/a/place/with/a/long/name/weightshare/calibrations/0011223344556677.json"
    page.show_view(done(place, place.replace("calibrations/", "calibrations/history/")), VALID)
    look_for_faults(page, page.lines(), "result")
    sizes = {line.pixel_size for line in page.lines() if line.name.startswith(("cell", "name", "head ", "plate"))}
    assert len(sizes) == 1, "letters of one size"
    told = {line.name: line.text for line in page.lines()}
    assert told["headline"] == f"Calibrated. {VALID}" and told["plate 1"].startswith("right plate, 0 to ")
    said = " ".join(line.text for line in page.lines() if line.name.startswith("below"))
    assert "a foot may be loose" in said and "no approval" in said


def test_one_plate_alone_has_the_page(theme: Theme, host: QWidget) -> None:
    page = result(theme, host)
    both = found()
    fits = tuple(fit for fit in both.fits if fit.side is Side.LEFT)
    figures = tuple(figure for figure in both.figures if figure.side is Side.LEFT)
    alone = replace(both, fits=fits, figures=figures, cautions=("much creep",) * 30)
    page.show_view(replace(done(), found=alone), VALID)
    look_for_faults(page, page.lines(), "one plate")
    assert any("more, in the file" in line.text for line in page.lines())


def test_every_placement_is_in_the_picture_of_what_is_left(theme: Theme, host: QWidget) -> None:
    page = result(theme, host)
    page.show_view(done(), VALID)
    plots = page._plots(found())
    assert [plot.reach_N for plot in plots] == [1.0, 1.0]
    for plot, fit in zip(plots, found().fits, strict=True):
        middle = (plot.lines()[1].room.center().y() + plot.lines()[3].room.center().y()) / 2
        for point in found().residuals:
            if point.side is fit.side:
                assert (plot.place_of(point).y() < middle) is (point.residual_N > 0.0)
    picture = pixels(page)
    assert all(share_of(picture, plot.axes.room, theme.inside) > 0.001 for plot in plots)
