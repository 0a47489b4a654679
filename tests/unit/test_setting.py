"""A session's settings.json."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from weightshare.errors import RecordError
from weightshare.model import Side
from weightshare.records.setting import SETTINGS_NAME, SessionHead, read_head, write_head
from weightshare.task import Goal, Settings

HEAD = SessionHead(
    Settings(Side.RIGHT, 75.0, 4.0, 0.5, None, 701.5, 2.0, 12.5),
    Goal(20.0, 4),
    ("tcp://127.0.0.1:7000",),
    "2026-11-24T10:15:00+01:00",
    "weightshare 0.1.0",
)


@pytest.mark.parametrize("head", [HEAD, SessionHead(Settings(Side.LEFT))])
def test_what_is_written_is_read_again(tmp_path: Path, head: SessionHead) -> None:
    write_head(tmp_path, head)
    assert read_head(tmp_path) == head


def test_a_missing_or_unreadable_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(RecordError, match=r"settings\.json: is missing"):
        read_head(tmp_path)
    (tmp_path / SETTINGS_NAME).mkdir()
    with pytest.raises(RecordError, match=r"settings\.json: cannot be read"):
        read_head(tmp_path)


@pytest.mark.parametrize(
    ("place", "key", "new"),
    [
        ("settings", "injured", "middle"),
        ("settings", "target_percent", "much"),
        ("settings", "target_percent", 101.0),
        ("settings", "a_newer_key", 1.0),
        ("goal", "holds", 0),
        ("goal", "hold_s", None),
    ],
)
def test_what_holds_no_settings_is_refused(tmp_path: Path, place: str, key: str, new: object) -> None:
    write_head(tmp_path, HEAD)
    path = tmp_path / SETTINGS_NAME
    value = json.loads(path.read_bytes())
    value[place][key] = new
    path.write_text(json.dumps(value))
    with pytest.raises(RecordError, match="holds no settings of a session"):
        read_head(tmp_path)


@pytest.mark.parametrize("content", [b"", b"[]", b"{}", b"3", b"\xff"])
def test_what_is_no_settings_file_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / SETTINGS_NAME).write_bytes(content)
    with pytest.raises(RecordError, match="holds no settings of a session"):
        read_head(tmp_path)


def test_another_version_is_refused_by_name(tmp_path: Path) -> None:
    (tmp_path / SETTINGS_NAME).write_text(json.dumps({"schema": "weightshare.settings/9"}))
    with pytest.raises(RecordError, match="another version"):
        read_head(tmp_path)
