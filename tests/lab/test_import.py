"""C3D recordings that two other libraries wrote, as traces; and readers that fail in every way."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.lab.trials import Trial, loads, write_with_c3d, write_with_ezc3d
from weightshare.errors import OptionError, RecordError
from weightshare.records.c3d.conversion import Choice, Found, find_feet
from weightshare.records.c3d.process import installed_readers, read_c3d
from weightshare.records.trace import read_trace

WRITERS = {"ezc3d": write_with_ezc3d, "c3d": write_with_c3d}
# four-byte numbers: 700 N is kept to 3e-5 N
CLOSE_N = 1e-4


def found(trial: Trial, place: Path, choice: Choice | None = None, writer: str = "ezc3d") -> Found:
    path = WRITERS[writer](trial, place / "trial.c3d")
    return find_feet(read_c3d(path), choice or Choice(), "trial.c3d")


def both(one: Found) -> Any:
    return np.stack([load.load_N for load in one.feet])


@pytest.mark.parametrize("writer", WRITERS)
@pytest.mark.parametrize("kind", [1, 2, 3, 4])
def test_each_type_comes_back_from_either_writer(kind: int, writer: str, tmp_path: Path) -> None:
    one = found(Trial(kind=kind), tmp_path, writer=writer)
    np.testing.assert_allclose(both(one), loads(), atol=CLOSE_N)
    assert one.rate_Hz == 1000.0 and [load.number for load in one.feet] == [1, 2]


def test_both_readers_read_the_same(tmp_path: Path) -> None:
    path = write_with_ezc3d(Trial(kind=3), tmp_path / "trial.c3d")
    first, second = (find_feet(read_c3d(path, [reader]), Choice(), "") for reader in installed_readers())
    np.testing.assert_allclose(both(first), both(second), rtol=1e-12)
    assert first.lines() == second.lines()


@pytest.mark.parametrize(
    ("trial", "said"),
    [
        (Trial(sign=1.0), "load counted positive"),
        (Trial(sign=-1.0), "load counted negative"),
        (Trial(unit="kN", factor=0.001), "in kN"),
        (Trial(normal="y"), "along Y"),
    ],
)
def test_unit_sign_and_axis_are_the_files(trial: Trial, said: str, tmp_path: Path) -> None:
    one = found(trial, tmp_path)
    np.testing.assert_allclose(both(one), loads(), atol=5e-4)
    assert said in "\n".join(one.lines())


def test_the_push_on_a_plate_is_told_from_its_reaction(tmp_path: Path) -> None:
    # the plates' own z axis points up here: what presses them is negative along it
    assert "the push on the plate" in found(Trial(sign=-1.0), tmp_path).lines()[1]
    assert "the plate's reaction" in found(Trial(sign=1.0), tmp_path).lines()[1]


def test_the_markers_on_the_feet_say_which_is_left(tmp_path: Path) -> None:
    one = found(Trial(swapped=True), tmp_path)
    assert one.guess.left == 2 and one.guess.sure
    np.testing.assert_allclose(both(one), loads(), atol=CLOSE_N)


def test_without_markers_the_left_is_a_guess_and_can_be_said(tmp_path: Path) -> None:
    bare = Trial(labels=("A", "B"))
    assert not found(bare, tmp_path).guess.sure
    for left in (1, 2):
        one = found(bare, tmp_path, Choice(left=left))
        assert one.guess.left == left and one.guess.sure


def test_the_zero_frames_are_taken_off_unless_told(tmp_path: Path) -> None:
    empty = loads()
    empty[:, :200] = 0.0
    trial = Trial(loads_N=empty, zero=(1, 20), offset=12.0)
    np.testing.assert_allclose(both(found(trial, tmp_path)), empty, atol=CLOSE_N)
    assert "-12.0 N" not in found(trial, tmp_path, Choice(zero=False)).lines()[1]
    kept = both(found(trial, tmp_path, Choice(zero=False, negative=True)))
    np.testing.assert_allclose(kept, empty - 12.0, atol=CLOSE_N)


def test_heel_heights_come_from_markers(tmp_path: Path) -> None:
    one = found(Trial(), tmp_path, Choice(heels=("LHEE", "RHEE")))
    assert one.heights_mm is not None
    left, right = one.heights_mm
    # of 100 frames the last is the highest; samples after it have no frame to lie before
    assert left[990] == pytest.approx(60.0, abs=0.001) and np.isnan(left[995])
    assert np.nanmax(np.abs(right)) < 0.001


@pytest.mark.parametrize(
    ("trial", "choice", "said"),
    [
        (Trial(kind=7), Choice(), "of type 7; types 1 to 4"),
        (Trial(unit="V"), Choice(), "unit is V, which is no force; say which: --unit N"),
        (Trial(plates=1), Choice(), "two are needed"),
        (Trial(plates=1, labels=("A", "B")), Choice(plates=(1, 2)), "--plates 2"),
        (Trial(loads_N=0.001 * loads()), Choice(), "nobody stands"),
        (Trial(loads_N=loads() - 300.0), Choice(), "pressed and pulled by turns"),
        (Trial(), Choice(left=3), "--left 3"),
        (Trial(), Choice(heels=("LHEE", "RTOE")), "no such marker; it has LHEE, RHEE"),
    ],
)
def test_what_cannot_be_told_is_refused_in_words(trial: Trial, choice: Choice, said: str, tmp_path: Path) -> None:
    with pytest.raises((RecordError, OptionError)) as refusal:
        found(trial, tmp_path, choice)
    assert said in str(refusal.value)


# -- readers that fail ---------------------------------------------------------------------------------------------


@pytest.fixture
def trial_file(tmp_path: Path) -> Path:
    return write_with_ezc3d(Trial(), tmp_path / "trial.c3d")


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("import os; os.abort()", "ended abruptly"),
        ("import time; time.sleep(60)", "did not end within 1 s"),
        ("import sys; print('no header', file=sys.stderr); sys.exit(1)", "no header"),
        ("pass", "nothing came of it"),
        ("import sys; open(sys.argv[2], 'wb').write(b'PK nothing')", "not described"),
        ("x = bytearray(1 << 60)", "MemoryError"),
    ],
)
def test_a_reader_may_fail_without_harm(code: str, said: str, trial_file: Path) -> None:
    with pytest.raises(RecordError) as refusal:
        read_c3d(trial_file, [[sys.executable, "-c", code]], time_limit_s=1.0)
    assert said in str(refusal.value) and str(trial_file) in str(refusal.value)


def test_where_one_reader_crashes_the_other_is_tried(trial_file: Path) -> None:
    crash = [sys.executable, "-c", "import os; os.abort()"]
    assert len(read_c3d(trial_file, [crash, installed_readers()[-1]]).plates) == 2


def weightshare(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "weightshare", "import", *arguments]
    return subprocess.run(command, stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=60, check=False)


def one_line(done: subprocess.CompletedProcess[str]) -> str:
    assert done.returncode == 2 and done.stderr.count("\n") == 1, done.stderr
    return done.stderr


@pytest.mark.parametrize("cut", [0, 1, 600, 3000])
def test_a_file_cut_short_costs_one_line(cut: int, trial_file: Path) -> None:
    trial_file.write_bytes(trial_file.read_bytes()[:cut])
    assert str(trial_file) in one_line(weightshare(str(trial_file)))


def test_a_file_of_noise_costs_one_line(trial_file: Path) -> None:
    noise = np.random.default_rng(5).integers(0, 256, 20_000, dtype=np.uint8).tobytes()
    trial_file.write_bytes(b"\x02\x50" + noise)
    one_line(weightshare(str(trial_file)))
    one_line(weightshare(str(trial_file.with_name("there-is-none.c3d"))))


def test_the_command_writes_a_trace_once_it_is_confirmed(trial_file: Path) -> None:
    to = trial_file.with_name("trace.csv")
    shown = weightshare(str(trial_file))
    assert shown.returncode == 0 and "left: platform 1" in shown.stdout
    assert "--yes" in one_line(weightshare(str(trial_file), "--to", str(to)))
    assert not to.exists()
    done = weightshare(str(trial_file), "--to", str(to), "--yes", "--json", "--heels", "LHEE,RHEE")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["written"] == str(to)
    trace = read_trace(to)
    np.testing.assert_allclose(np.stack([trace.columns["left_N"], trace.columns["right_N"]]), loads(), atol=CLOSE_N)
    assert "left_heel_height_mm" in trace.columns
    assert "there is such a file already" in one_line(weightshare(str(trial_file), "--to", str(to), "--yes"))
