"""What `make run` does where there is no display: a session in the terminal, its analysis, its place and a picture."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PySide6.QtGui import QColor, QImage

from weightshare.cli import demo
from weightshare.cli.machine import Probe
from weightshare.errors import DeviceError
from weightshare.window.display import names_display


@pytest.fixture
def no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine that names no display."""
    if names_display({}):
        pytest.skip("this system always has a display")
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)


@pytest.mark.usefixtures("no_display")
def test_without_a_display_a_session_is_practised_kept_and_pictured(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert demo.show(save=tmp_path, seconds=13.0) == 0
    out = capsys.readouterr().out
    assert re.search(r"^share of the injured side +mean \d", out, flags=re.MULTILINE)
    (folder,) = (path for path in tmp_path.iterdir() if path.is_dir())
    (picture,) = tmp_path.glob("*.png")
    assert out.endswith(f"\nsession   {folder}\npicture   {picture}\n")
    assert (folder / "analysis.json").stat().st_size > 0
    image = QImage(str(picture))
    assert (image.width(), image.height()) == (1366, 768)
    assert len(_colours(image)) > 8  # a screen with a path, a puck and figures on it; a blank one has one


def _colours(image: QImage) -> set[int]:
    return {QColor(image.pixel(x, y)).rgb() for x in range(0, image.width(), 4) for y in range(0, image.height(), 4)}


@pytest.mark.usefixtures("no_display")
def test_a_place_that_cannot_be_written_to_is_told_after_the_analysis(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "file"
    place.write_text("in the way", encoding="utf-8")
    with pytest.raises(DeviceError, match="file"):
        demo.show(save=place, seconds=2.0)
    assert "injured side" in capsys.readouterr().out


def test_a_display_that_does_not_answer_is_told_and_practised_without(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("DISPLAY", ":99999")
    monkeypatch.setenv("QT_QPA_PLATFORM", "xcb")
    monkeypatch.setattr(demo, "practise", lambda options: 17)
    assert demo.show() == 17
    assert "no window can be opened here: " in capsys.readouterr().err


def test_where_a_window_can_be_opened_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.setattr(demo, "try_window", lambda: Probe(True, "xcb 3"))
    monkeypatch.setattr("weightshare.window.app.open_window", lambda options: 23)
    assert demo.show() == 23


def test_what_fails_is_one_line_with_its_status(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail() -> int:
        raise DeviceError("the port is gone; plug it in again")

    monkeypatch.setattr(demo, "show", fail)
    assert demo.main() == 3
    assert capsys.readouterr().err == "weightshare: the port is gone; plug it in again\n"
