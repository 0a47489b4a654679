"""The page of the scale in use: its calibration in words, those before it, and the drift log as pictures."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QWidget

from tests.unit.benches import Plate, make_record
from tests.window.benching import found
from tests.window.conftest import Bench, fresh
from tests.window.test_bench import Table, table
from tests.window.test_benchpaint import host, look_for_faults, pixels, share_of
from tests.window.test_keyboard import ALT, Key, press
from weightshare.model import Calibration, ChannelCalibration
from weightshare.practice.gauge import Gauge
from weightshare.practice.screen import Shape
from weightshare.records.bench import keep_calibration
from weightshare.records.drift import Entry, append_entry, drift_path
from weightshare.records.place import calibration_folder
from weightshare.state import Snapshot
from weightshare.window.bench import Part
from weightshare.window.benchscale import NO_FIGURES, NOT_KNOWN, BenchScale, state_of, validity_words
from weightshare.window.theme import Theme

__all__ = ["host", "table"]

TODAY = date(2026, 11, 25)
DEVICE = "0011223344556677"
ENDS = {
    None: (Shape.RING, "no end was set"),
    date(2026, 11, 24): (Shape.CROSS, "Overdue: it was valid until 24 November 2026"),
    TODAY: (Shape.DIAMOND, "have it calibrated soon"),
    date(2026, 12, 25): (Shape.DIAMOND, "Valid until 25 December 2026"),
    date(2026, 12, 26): (Shape.DISC, "Calibrated, and valid until 26 December 2026"),
}


@pytest.fixture(autouse=True)
def own_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What one test keeps, no other finds."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))


def calibration(made_on: date = TODAY, until: date | None = None) -> Calibration:
    channels = tuple(ChannelCalibration(index, 5000.0, 0.00125) for index in range(4))
    return Calibration(DEVICE, made_on, channels, valid_until=until or made_on + timedelta(365), worth=found().worth)


def keep(made_on: date) -> Calibration:
    """Keep a calibration made on that day, with the figures of one; return it."""
    made = calibration(made_on)
    record = make_record(Plate())
    at = datetime(made_on.year, made_on.month, made_on.day, 10, 15, tzinfo=UTC)
    keep_calibration(made, record, found(), "R. Example", at=at)
    return made


def log(count: int, mismatch: float | None = 0.4) -> None:
    for number in range(count):
        at = datetime(2026, 9, 1, 9, 0, tzinfo=UTC) + timedelta(days=7 * number)
        append_entry(DEVICE, Entry(at, "check", TODAY, 1.5 * number, -1.0, mismatch, 0.2))


def page_of(theme: Theme, host: QWidget, made: Calibration) -> BenchScale:
    page = BenchScale(theme, host)
    page.setGeometry(host.rect())
    page.show_state(state_of(made, TODAY))
    return page


def text(page: BenchScale, name: str) -> str:
    return " ".join(line.text for line in page.lines() if line.name.split(" ")[0] == name)


@pytest.mark.parametrize("until", list(ENDS), ids=str)
def test_validity_is_told_in_words_and_in_a_mark(until: date | None) -> None:
    shape, said = ENDS[until]
    told = validity_words(replace(calibration(), valid_until=until), TODAY)
    assert told[0] is shape and said in told[1]


def test_a_scale_with_all_that_can_be_kept_of_it(theme: Theme, host: QWidget) -> None:
    for made_on in (date(2024, 11, 2), date(2025, 11, 2)):
        keep(made_on)
    made = keep(TODAY)
    log(12)
    page = page_of(theme, host, made)
    look_for_faults(page, page.lines(), "scale")
    assert text(page, "headline") == "Calibrated, and valid until 25 November 2027"
    assert text(page, "about") == f"Scale {DEVICE}, calibrated on 25 November 2026 by R. Example."
    assert text(page, "before") == "Before it, and kept: 2 November 2025, 2 November 2024."
    assert "hysteresis, N" in [line.text for line in page.lines()]
    assert page.shown is not None
    picture = pixels(page)
    for plot in page._plots(page.shown):
        assert plot.count and share_of(picture, plot.axes.room, theme.inside) > 0.001
    assert "2026-09-01" in [line.text for line in page.lines()] and "2026-11-17" in [line.text for line in page.lines()]


def test_a_scale_of_which_nothing_is_kept_says_so(theme: Theme, host: QWidget) -> None:
    page = page_of(theme, host, calibration())
    look_for_faults(page, page.lines(), "bare")
    assert text(page, "none") == NO_FIGURES and "No calibration before this one" in text(page, "before")
    assert [line.text for line in page.lines()].count("nothing is logged yet") == 2
    page.show_state(None)
    assert text(page, "headline") == NOT_KNOWN


def test_what_went_wrong_with_the_scale_is_told(theme: Theme, host: QWidget) -> None:
    made = keep(TODAY)
    log(20, mismatch=2.1)
    with drift_path(DEVICE).open("ab") as file:
        file.write(b"no entry\n")
    page = page_of(theme, host, made)
    look_for_faults(page, page.lines(), "drifted")
    said = text(page, "caution")
    assert "the left plate's zero is +28 N" in said and "reads 2.1 % more" in said
    assert "1 lines of the drift log could not be read" in said
    assert page.shown is not None
    zero = page._plots(page.shown)[0]
    assert zero.reach > 28.0, "what is beyond the limit is in the picture"


def test_an_altered_calibration_is_told_and_another_one_is_not_taken_for_it(theme: Theme, host: QWidget) -> None:
    made = keep(TODAY)
    path = calibration_folder() / f"{DEVICE}.json"
    path.write_text(path.read_text().replace("0.00125", "0.00126"))
    state = state_of(made, TODAY)
    assert state.kept is None and any(str(path) in line for line in state.trouble)


def test_the_page_is_reached_from_the_questions_and_left_to_them(table: Table) -> None:
    gauge = Gauge(calibration(), found().worth, 80.0)
    table.bench.feed.shown = fresh(Snapshot(), gauge=gauge)
    table.ask()
    page = table.page
    assert "valid until 25 November 2027" in page.form.about.text()
    press(table.bench, Key.Key_S, ALT)
    table.bench.until(lambda: page.part is Part.SCALE)
    assert page.key.isVisible() and text(page.scale, "headline").startswith("Calibrated")
    press(table.bench, Key.Key_Escape)
    assert page.part is Part.FORM and page.form.masses.hasFocus() and not page.key.isVisible()
    page.form.scale.click()
    press(table.bench, Key.Key_Space)
    assert page.part is Part.FORM and page.is_open


def test_a_scale_that_is_not_known_has_no_page(bench: Bench) -> None:
    known = Table(bench)
    known.ask()
    assert not known.page.form.scale.isEnabled() and known.page.form.about.text() == known.window.flow.source
    known.page.form.open_form("rig:", "")
    assert known.page.form.about.text() == "The virtual scales", "an address without a name told nothing"
