"""The bench runner tells kept from missed from broken by its exit status."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

KEPT = """
def measure():
    return [{"name": "twice", "value": 1.9, "limit": 2.0, "direction": "at most"},
            {"name": "speed", "value": 8.0, "limit": 8.0, "direction": "at least", "note": "on the line"}]
"""
MISSED = """
def measure():
    return [{"name": "slow", "value": 2.1, "limit": 2.0, "direction": "at most"}]
"""
BROKEN = """
def measure():
    raise OSError("no such port")
"""
UNKNOWN = """
def measure():
    return [{"name": "odd", "value": float("nan"), "limit": 2.0, "direction": "at most"}]
"""


@pytest.fixture
def benches(tmp_path: Path, checkout: Path) -> Path:
    """A folder with the runner and four benches."""
    shutil.copy(checkout / "tests" / "bench" / "run.py", tmp_path)
    for name, source in {"kept": KEPT, "missed": MISSED, "broken": BROKEN, "nan": UNKNOWN}.items():
        (tmp_path / f"bench_{name}.py").write_text(source, encoding="utf-8")
    return tmp_path


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(folder / "run.py"), *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_kept_limits_are_status_0(benches: Path) -> None:
    done = run(benches, "kept")
    assert done.returncode == 0, done.stderr
    assert "2 of 2 figures keep their limit" in done.stdout
    assert "on the line" in done.stdout


def test_one_miss_is_status_1_and_all_are_still_measured(benches: Path) -> None:
    done = run(benches, "missed", "kept")
    assert done.returncode == 1
    assert [line.split()[0] for line in done.stdout.splitlines() if line and line[0] != " "] == [
        "MISSED",
        "kept",
        "kept",
        "2",
    ]


def test_a_figure_that_is_no_number_is_a_miss(benches: Path) -> None:
    assert run(benches, "nan").returncode == 1


def test_a_bench_that_fails_is_told_and_is_status_2(benches: Path) -> None:
    done = run(benches, "broken", "kept")
    assert done.returncode == 2
    assert "no such port" in done.stderr
    assert "2 of 2" in done.stdout


def test_an_unknown_bench_is_refused_by_name(benches: Path) -> None:
    done = run(benches, "nothing")
    assert done.returncode == 2
    assert done.stderr == "no bench nothing; there are: broken, kept, missed, nan\n"


def test_json_is_one_object(benches: Path) -> None:
    done = run(benches, "kept", "--json")
    found = json.loads(done.stdout)
    assert found["missed"] == 0
    assert found["benches"]["kept"][0]["name"] == "twice"
