"""What the patient is to do, kept between starts: whole, or not at all."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from weightshare.errors import RecordError
from weightshare.model import Side
from weightshare.programme.prescription import goal_of, prescribe
from weightshare.programme.shelf import READY, find_programme
from weightshare.records.assignment import Assignment, read_assignment, write_assignment
from weightshare.task import Goal, Settings


@pytest.mark.parametrize("name", READY)
def test_every_stage_reads_back_equal(name: str, tmp_path: Path) -> None:
    kept = find_programme(name)
    for number, stage in enumerate(kept.programme.stages):
        if stage.supported and (stage.load is None or stage.load.percent):
            continue
        one = Assignment(prescribe(stage, Side.RIGHT), goal_of(stage), kept.prescription(stage), name)
        path = tmp_path / f"{number}.json"
        write_assignment(one, path)
        assert read_assignment(path) == one
        assert path.stat().st_mode & 0o077 == 0


def test_nothing_assigned_is_none(tmp_path: Path) -> None:
    assert read_assignment(tmp_path / "assigned.json") is None


def test_a_target_that_was_changed_by_hand_in_the_file_is_asked_of_nobody(tmp_path: Path) -> None:
    path = tmp_path / "own" / "assigned.json"
    write_assignment(Assignment(Settings(Side.LEFT, target_percent=60.0), Goal()), path)
    value = json.loads(path.read_bytes())
    value["settings"]["target_percent"] = 90.0
    path.write_text(json.dumps(value))
    with pytest.raises(RecordError, match="was altered or cut short"):
        read_assignment(path)
    del value["checksum"]
    path.write_text(json.dumps(value))
    with pytest.raises(RecordError, match="was altered or cut short"):
        read_assignment(path)


def test_a_file_cut_short_is_told(tmp_path: Path) -> None:
    path = tmp_path / "assigned.json"
    write_assignment(Assignment(Settings(Side.LEFT), Goal()), path)
    path.write_bytes(path.read_bytes()[:-20])
    with pytest.raises(RecordError, match="clinician sets anew"):
        read_assignment(path)
