"""A session's settings.json."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from weightshare.errors import RecordError
from weightshare.exercise import Basis, Ceiling, Exercise, SetSpan, Surface, Tempo
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
LOWERING = SessionHead(
    Settings(
        Side.RIGHT,
        75.0,
        exercise=Exercise.LOWERING,
        surface=Surface.STEP,
        basis=Basis.FORCE,
        reference_height_mm=95.0,
        tempo=Tempo(1.0, 0.0, 3.0, 1.0 / 3.0),
        working=Side.LEFT,
        one_sided=True,
        ceiling=Ceiling(percent=25.0),
    ),
    Goal(sets=2, repetitions=8, rest_s=45.0, blind_sets=(2,), to_exhaustion=True),
    sets=(SetSpan(1, 12.5, 80.1, Side.LEFT, paced_from_s=16.5), SetSpan(2, 140.2, blind=True)),
    faults_s=(20.1, 150.0),
)
OLD = {
    "schema": "weightshare.settings/1",
    "started_at": "2026-11-24T10:15:00+01:00",
    "program": "weightshare 0.1.0",
    "sources": ["tcp://127.0.0.1:7000"],
    "settings": {
        "injured": "right",
        "target_percent": 75.0,
        "tolerance_percent": 4.0,
        "grace_s": 0.5,
        "filter_Hz": None,
        "body_weight_N": 701.5,
        "added_weight_N": 2.0,
        "counting_from_s": 12.5,
    },
    "goal": {"hold_s": 20.0, "holds": 4},
}
"""As version 0.1 wrote it, before there were sets."""


@pytest.mark.parametrize("head", [HEAD, LOWERING, SessionHead(Settings(Side.LEFT, ceiling=Ceiling(kg=20.0)))])
def test_what_is_written_is_read_again(tmp_path: Path, head: SessionHead) -> None:
    write_head(tmp_path, head)
    assert read_head(tmp_path) == head


def test_what_an_older_version_wrote_is_read(tmp_path: Path) -> None:
    (tmp_path / SETTINGS_NAME).write_text(json.dumps(OLD))
    assert read_head(tmp_path) == HEAD


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
        ("settings", "tolerance_percent", None),
        ("settings", "target_percent", float("nan")),
        ("settings", "exercise", "handstand"),
        ("settings", "tempo", "1-1-3"),
        ("settings", "tempo", {"rise_s": 0.0}),
        ("settings", "ceiling", {}),
        ("settings", "one_sided", 1),
        ("goal", "holds", 0),
        ("goal", "hold_s", None),
        ("goal", "blind_sets", 2),
        ("goal", "sets", 2.5),
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
