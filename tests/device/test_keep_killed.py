"""The program killed while it keeps calibration after calibration: none is torn, none is lost."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from weightshare.records.bench import HISTORY, history, read_kept

ID = "0011223344556677"
CHILD = """
import sys
from dataclasses import replace
from datetime import date
from pathlib import Path
from tests.unit.benches import Plate, make_record
from weightshare.metrology.evaluate import evaluate
from weightshare.model import Calibration
from weightshare.records.bench import keep_calibration

record = make_record(Plate())
found = evaluate(record)
calibration = Calibration(record.device_id, date(2026, 11, 2), found.channels, None, 9.81, found.worth)
number = int(sys.argv[2])
while True:
    number += 1
    keep_calibration(calibration, record, found, str(number), Path(sys.argv[1]))
    print(number, flush=True)
"""


@pytest.fixture
def running() -> Iterator[list[subprocess.Popen[str]]]:
    """Processes to be killed at the end, whatever happens."""
    started: list[subprocess.Popen[str]] = []
    yield started
    for process in started:
        process.kill()
        process.communicate(timeout=20)


@pytest.mark.skipif(sys.platform == "win32", reason="SIGKILL is POSIX's")
def test_no_calibration_is_torn_or_lost(tmp_path: Path, checkout: Path, running: list[subprocess.Popen[str]]) -> None:
    last = 0
    for turn in range(4):
        command = [sys.executable, "-c", CHILD, str(tmp_path), str(last)]
        process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=checkout)
        running.append(process)
        assert process.stdout is not None
        for _ in range(3 + turn):
            last = int(process.stdout.readline())
        process.kill()
        rest, _ = process.communicate(timeout=20)
        last = max([last, *map(int, rest.split())])

        in_force = int(read_kept(tmp_path / f"{ID}.json").made_by)
        assert in_force in (last, last + 1)
        told = history(ID, tmp_path)
        assert told.passed_over == ()
        assert {int(one.made_by) for one in told.kept} >= set(range(1, last + 1))
        last = in_force
    names = [path.name for path in (tmp_path / HISTORY / ID).glob("*.json")]
    assert len(names) >= last - 1
