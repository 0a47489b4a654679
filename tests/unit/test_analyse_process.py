"""`weightshare analyse` as a process of its own: what reaches stdout, stderr and the caller."""

from __future__ import annotations

import errno
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from weightshare.model import Trace
from weightshare.records.trace import write_csv

HEAD = "time_s,left_N,right_N\n"
REFUSED: list[tuple[bytes, str]] = [
    (HEAD.encode() + b"0,1,1\n1,many,1\n", "line 3, column left_N"),
    (HEAD.encode() + b"-inf,1,1\n0,1,1\n", "line 2, column time_s"),
    (HEAD.encode() + b"0,1,1\n1,\xb5,1\n", "line 3, column left_N"),
]


@pytest.fixture
def trace(tmp_path: Path) -> Path:
    """Twenty seconds at 75 % on the left plate."""
    path = tmp_path / "trace.csv"
    write_csv(Trace(np.arange(2001) / 100.0, {"left_N": np.full(2001, 525.0), "right_N": np.full(2001, 175.0)}), path)
    return path


def run(*arguments: str | Path, where: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "weightshare", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, cwd=where, check=False, timeout=60)


def test_the_real_command_says_one_line_and_no_traceback(checkout: Path, tmp_path: Path) -> None:
    path = tmp_path / "trace.csv"
    for content, place in REFUSED:
        path.write_bytes(content)
        done = run("analyse", path, "--injured", "left", where=checkout)
        assert (done.returncode, done.stdout) == (2, "")
        assert done.stderr.count("\n") == 1
        assert place in done.stderr


def test_the_real_command_says_nothing_beside_its_object(checkout: Path, trace: Path) -> None:
    done = run("analyse", trace, "--injured", "left", "--target", "75", "--json", where=checkout)
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["total_held_s"] == 20.0


@pytest.mark.skipif(sys.platform == "win32", reason="pipes end otherwise there")
def test_a_reader_that_goes_away_is_no_error(checkout: Path, trace: Path) -> None:
    """`weightshare analyse ... | head -1` and the like: the reader of the pipe is gone before we write."""
    reading, writing = os.pipe()
    os.close(reading)
    command = [sys.executable, "-m", "weightshare", "analyse", str(trace), "--injured", "left"]
    done = subprocess.run(command, stdout=writing, stderr=subprocess.PIPE, cwd=checkout, check=False, timeout=60)
    os.close(writing)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_an_output_that_cannot_be_written_is_told_in_one_line(checkout: Path, trace: Path) -> None:
    """`weightshare analyse ... > results.json` on a full disk ended in a traceback."""
    command = [sys.executable, "-m", "weightshare", "analyse", str(trace), "--injured", "left"]
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, cwd=checkout, check=False, timeout=60)
    assert (done.returncode, done.stderr) == (3, b"weightshare: the output: No space left on device\n")


@pytest.mark.skipif(sys.platform == "win32", reason="a shell that closes a stream")
@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-"])
def test_a_program_started_without_its_streams_runs(checkout: Path, trace: Path, closed: str) -> None:
    """Python has no sys.stdout then: it ended in a traceback."""
    command = f'"{sys.executable}" -m weightshare analyse "{trace}" --injured left {closed}'
    done = subprocess.run(command, shell=True, capture_output=True, cwd=checkout, check=False, timeout=60)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes here")
def test_an_interrupt_ends_it_quietly(checkout: Path, tmp_path: Path) -> None:
    """The command waits for a trace that nobody writes; Ctrl-C comes when it has opened the pipe."""
    pipe = tmp_path / "trace.csv"
    os.mkfifo(pipe)
    command = [sys.executable, "-m", "weightshare", "analyse", str(pipe), "--injured", "left"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=checkout) as process:
        writing = opened_for_reading(pipe)
        time.sleep(0.5)  # a signal between opening and reading is seen only when the reading is over
        process.send_signal(signal.SIGINT)
        try:
            out, err = process.communicate(timeout=60)
        finally:
            process.kill()
            os.close(writing)
    assert (process.returncode, out, err) == (130, b"", b"")


def opened_for_reading(pipe: Path) -> int:
    """Return the writing end, as soon as somebody reads the pipe."""
    until = time.monotonic() + 60.0
    while time.monotonic() < until:
        try:
            return os.open(pipe, os.O_WRONLY | os.O_NONBLOCK)
        except OSError as error:
            if error.errno != errno.ENXIO:
                raise
        time.sleep(0.01)
    raise AssertionError(f"nobody opened {pipe} within a minute")
