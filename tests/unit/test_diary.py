"""What a person says of a session: kept beside it, never lost, never taken back."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from weightshare.cli import main
from weightshare.errors import OptionError, RecordError
from weightshare.model import Side
from weightshare.records.diary import DIARY_NAME, About, Diary, Entry, add_entries, find_morning, read_diary
from weightshare.records.setting import SessionHead, write_head
from weightshare.task import Settings

AT = "2026-11-24T10:15:00+01:00"
NOW = datetime.fromisoformat("2026-11-25T09:00:00+01:00")


def session(place: Path, started_at: str) -> Path:
    folder = place / f"session-{started_at[:19].replace(':', '')}"
    folder.mkdir()
    write_head(folder, SessionHead(Settings(Side.LEFT), started_at=started_at))
    return folder


def test_what_is_said_anew_stands_after_what_was_said(tmp_path: Path) -> None:
    add_entries(tmp_path, Entry(About.PAIN_AFTER, AT, 4), Entry(About.NOTE, AT, words="stiff"))
    add_entries(tmp_path, Entry(About.PAIN_AFTER, AT, 2))
    diary = read_diary(tmp_path)
    assert [one.value for one in diary.entries] == [4, None, 2]
    newest = diary.newest(About.PAIN_AFTER)
    assert newest is not None and newest.value == 2 and diary.notes == ("stiff",)
    assert diary.newest(About.EFFORT) is None


def test_nothing_said_is_an_empty_diary(tmp_path: Path) -> None:
    assert read_diary(tmp_path) == Diary() == add_entries(tmp_path)
    assert not (tmp_path / DIARY_NAME).exists()


def test_a_digit_changed_by_hand_is_noticed(tmp_path: Path) -> None:
    add_entries(tmp_path, Entry(About.PAIN_AFTER, AT, 4))
    path = tmp_path / DIARY_NAME
    path.write_bytes(path.read_bytes().replace(b'"value": 4', b'"value": 1'))
    with pytest.raises(RecordError, match=r"diary.json: was altered"):
        read_diary(tmp_path)
    path.write_bytes(b"{")
    with pytest.raises(RecordError, match="altered or cut short"):
        add_entries(tmp_path, Entry(About.PAIN_AFTER, AT, 1))
    path.write_text('{"schema": "weightshare.diary/1", "entries": []}')
    with pytest.raises(RecordError, match="altered"):
        read_diary(tmp_path)


@pytest.mark.parametrize("value", [-1, 11, None])
def test_a_figure_is_0_to_10(value: int | None) -> None:
    with pytest.raises(OptionError, match=r"--pain-after .* it may be 0 to 10"):
        Entry(About.PAIN_AFTER, AT, value)


@pytest.mark.parametrize("words", ["", "  ", "x" * 501])
def test_a_note_has_words(words: str) -> None:
    with pytest.raises(OptionError, match="--note"):
        Entry(About.NOTE, AT, words=words)


def test_the_morning_is_of_the_newest_session_of_a_day_before(tmp_path: Path) -> None:
    session(tmp_path, "2026-11-23T10:00:00+01:00")
    yesterday = session(tmp_path, "2026-11-24T10:00:00+01:00")
    session(tmp_path, "2026-11-25T08:00:00+01:00")
    assert find_morning(tmp_path, NOW) == yesterday
    add_entries(yesterday, Entry(About.PAIN_NEXT_MORNING, AT, 1))
    assert find_morning(tmp_path, NOW) is None, "what was told is not asked again"


def test_a_morning_long_past_is_asked_no_more(tmp_path: Path) -> None:
    session(tmp_path, "2026-11-24T10:00:00+01:00")
    assert find_morning(tmp_path, NOW + timedelta(days=2)) is None
    assert find_morning(tmp_path / "none", NOW) is None


def test_the_command_adds_and_shows(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = session(tmp_path, "2026-11-24T10:00:00+01:00")
    assert main(["diary", str(folder), "--pain-after", "2", "--effort", "5", "--note", "calf tight"]) == 0
    out, _ = capsys.readouterr()
    assert [line.partition("  ")[2] for line in out.splitlines()] == [
        "pain-after: 2 of 10", "effort: 5 of 10", "note: calf tight",
    ]  # fmt: skip
    assert main(["diary", str(folder), "--pain-after", "12"]) == 2
    assert "--pain-after 12 is out of range" in capsys.readouterr().err
    assert len(read_diary(folder).entries) == 3
