"""What is said before a session in the terminal: of the one before, of this one; and where it may not be said."""

from __future__ import annotations

import argparse
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.unit.test_analyse_command import refused
from weightshare.cli import build_parser
from weightshare.cli.morning import begin_diary
from weightshare.cli.practise import make_options
from weightshare.errors import OptionError
from weightshare.model import Side
from weightshare.records.diary import About, read_diary
from weightshare.records.setting import SessionHead, write_head
from weightshare.task import Settings


def asked(place: Path, *words: str) -> argparse.Namespace:
    return build_parser().parse_args(["practise", "--headless", "--save", str(place), *words])


def yesterday(place: Path) -> Path:
    began = datetime.now().astimezone() - timedelta(days=1)
    folder = place / f"session-{began:%Y-%m-%d-%H%M%S}"
    folder.mkdir(parents=True)
    write_head(folder, SessionHead(Settings(Side.LEFT), started_at=began.isoformat(timespec="seconds")))
    return folder


def test_what_is_said_of_this_session_is_handed_on(tmp_path: Path) -> None:
    args = asked(tmp_path, "--pain-before", "2", "--effort", "4", "--note", "a", "--note", "b")
    said = begin_diary(args, make_options(args))
    assert [(one.about, one.value, one.words) for one in said] == [
        (About.PAIN_BEFORE, 2, ""), (About.EFFORT, 4, ""), (About.NOTE, None, "a"), (About.NOTE, None, "b"),
    ]  # fmt: skip


def test_the_morning_goes_to_the_session_that_it_is_of(tmp_path: Path) -> None:
    folder = yesterday(tmp_path)
    args = asked(tmp_path, "--pain-next-morning", "3")
    assert begin_diary(args, make_options(args)) == ()
    told = read_diary(folder).newest(About.PAIN_NEXT_MORNING)
    assert told is not None and told.value == 3


def test_a_stage_asks_for_the_morning_before(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = yesterday(tmp_path)
    args = asked(tmp_path, "--programme", "achilles", "--stage", "raise")
    begin_diary(args, make_options(args))
    assert f"weightshare diary {folder} --pain-next-morning N" in capsys.readouterr().err
    plain = asked(tmp_path, "--target", "75")
    begin_diary(plain, make_options(plain))
    assert capsys.readouterr().err == "", "without a programme nobody asks"


def test_a_morning_without_a_session_is_refused(tmp_path: Path) -> None:
    args = asked(tmp_path, "--pain-next-morning", "3")
    with pytest.raises(OptionError, match="no session of the days before"):
        begin_diary(args, make_options(args))


def test_the_window_takes_no_such_options(capsys: pytest.CaptureFixture[str]) -> None:
    assert "go with --headless" in refused(capsys, ["practise", "--pain-after", "3"])
