"""`weightshare practise --headless --stage ...` as a user runs it: it begins, counts and ends by itself."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from weightshare.records.session import find_session, load_session

COMMAND = [sys.executable, "-W", "error", "-m", "weightshare"]
STAGE = "--source rig:raiser --injured left --stage lowering --tempo 0.8-0.4-1 --sets 1 --repetitions 1"


def test_a_set_is_practised_and_the_table_comes_again_from_the_record(tmp_path: Path) -> None:
    words = [*COMMAND, "practise", "--headless", *STAGE.split(), "--save", str(tmp_path)]
    done = subprocess.run(words, capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 0, done.stderr
    told = done.stderr.splitlines()
    assert told[0] == "no --target was given: lowering is held against 75 % on the left side"
    assert told[-1].startswith("saved: ")
    assert f"{'repetitions':28}1, by the heel's height\n" in done.stdout
    again = subprocess.run([*COMMAND, "analyse", str(tmp_path)], capture_output=True, text=True, check=True, timeout=60)
    assert again.stdout == done.stdout
    (span,) = load_session(find_session(tmp_path)).head.sets
    assert span.to_s is not None


def test_a_target_that_the_limit_forbids_ends_the_session_once_the_person_is_weighed(tmp_path: Path) -> None:
    """75 % of anybody's weight is over 20 kg: the alarm alone would have been practised."""
    words = [*COMMAND, "practise", "--headless", *STAGE.split(), "--ceiling", "20kg", "--save", str(tmp_path)]
    done = subprocess.run(words, capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 2 and done.stdout == "", done.stderr
    last = done.stderr.splitlines()[-1]
    assert "--target and --ceiling: 75 % on the left foot is " in last and "over the limit of 20.0 kg" in last
    assert load_session(find_session(tmp_path)).head.sets == (), "nothing was begun"
