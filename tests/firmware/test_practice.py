"""A whole session with the firmware: from the pins of its converters to the kept and analysed practice."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.firmware.boards import Board, shipped, wired
from weightshare.scales.discovery import Reach, probe

N_PER_COUNT = 0.01
LEFT_KG, RIGHT_KG = 20.0, 60.0
STEPS_ON_MS = 6000


def write_calibration(path: Path) -> Path:
    channels = [{"index": index, "zero_counts": 0, "newton_per_count": N_PER_COUNT} for index in range(4)]
    content = {
        "schema": "weightshare.calibration/1",
        "device_id": "0000112233445566",
        "made_on": "2026-11-02",
        "channels": channels,
    }
    path.write_text(json.dumps(content))
    return path


def test_a_port_with_the_firmware_is_found_as_a_scale(board: Board) -> None:
    found = probe(Reach(board.source, "a cable"))
    assert found.answer == "scale 0000112233445566 (weightshare pair)"


def test_a_session_on_the_firmware(make_board: Callable[..., Board], tmp_path: Path) -> None:
    """Nobody for six seconds, then 20 kg on the left and 60 kg on the right plate: 75 % on the right, by arithmetic."""
    world = wired(shipped())
    for converter, kg in zip(world["converters"], (LEFT_KG, LEFT_KG, RIGHT_KG, RIGHT_KG), strict=True):
        converter["loads"] = [[STEPS_ON_MS, round(kg / 2 * 9.80665 / N_PER_COUNT)]]
    board = make_board(world=world)
    calibration = write_calibration(tmp_path / "calibration.json")
    options = ["--injured", "right", "--target", "75", "--seconds", "14", "--json", "--save", str(tmp_path / "kept")]
    words = ["practise", "--headless", "--source", board.source, "--calibration", str(calibration), *options]
    done = subprocess.run(
        [sys.executable, "-W", "error", "-m", "weightshare", *words],
        env=os.environ | {"XDG_DATA_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        timeout=90,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    analysis = json.loads(done.stdout)
    assert analysis["share_percent"]["mean"] == pytest.approx(75.0, abs=0.05)
    assert analysis["duration_s"] == pytest.approx(14.0, abs=1.0)
    assert board.complaints == []
    assert "in the band" in done.stderr
