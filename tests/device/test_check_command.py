"""`weightshare calibrate check` over the whole link."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.leash import LeashedEngine
from weightshare.cli.checker import NO_WAY, NO_ZERO, Checked, Checker, Way
from weightshare.errors import DeviceError
from weightshare.exercise import Ceiling
from weightshare.metrology.balance import Verdict
from weightshare.model import Side
from weightshare.practice.option import PractiseOptions
from weightshare.records.drift import drift_of
from weightshare.scales.rig.cell import PAIR_ID
from weightshare.task import Settings

OPTIONS = PractiseOptions(Settings(Side.LEFT), seconds=120.0, record=False, checks_only=True)


@pytest.fixture(autouse=True)
def own_log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))


def check(
    spec: str, way: Way = Way.SHIFT, weight_kg: float | None = None, options: PractiseOptions = OPTIONS
) -> tuple[Checked, list[str]]:
    """Run one check to its end; return what came of it and what was said."""
    options = replace(options, sources=(f"rig:{spec}",))
    engine = LeashedEngine(options, spec)
    checker = Checker(options, way, weight_kg, engine)
    said: list[str] = []
    engine.start()
    try:
        while not checker.is_over:
            said += checker.look()
            engine.go_on()
    finally:
        checker.engine.stop()
    return checker.result(), said


def test_a_plate_that_reads_high_fails_and_is_logged() -> None:
    checked, said = check("quiet,faults=mismatch")
    assert not checked.passed and checked.balance.verdict is Verdict.UNEVEN
    assert checked.balance.mismatch is not None and abs(checked.balance.mismatch.value - 2.0) < 0.5
    assert said[:2] == ["Please stay off the plates.", "Step on with both feet, and stand still."]
    assert "both feet on" in said[2] and "65 %" in said[2] and "Now slowly to the right." in said
    drift = drift_of(PAIR_ID)
    assert [entry.kind for entry in drift.entries] == ["session", "check"]
    assert drift.mismatch_percent[1] == pytest.approx(checked.balance.mismatch.value, abs=1e-4)


def test_plates_that_are_well_pass() -> None:
    checked, _ = check("quiet")
    assert checked.passed and checked.to_json()["verdict"] == "even" and checked.to_json()["warnings"] == []
    assert not any("one leg" in words or "one foot" in words for words in _)


def test_a_helper_finds_what_each_side_reads_too_much() -> None:
    checked, said = check("quiet,faults=mismatch", Way.HELPER, 688.0 / 9.80665)
    assert not checked.passed and checked.gains[Side.LEFT].value == pytest.approx(2.0, abs=0.2)
    assert checked.gains[Side.RIGHT].value == pytest.approx(0.0, abs=0.2)
    assert said[1:] == [
        "Put the helper on the left plate alone, and keep still.",
        "Put the helper on the right plate alone, and keep still.",
        "Now take it off, or step off.",
    ]


def test_plates_that_agree_but_not_with_the_weight_that_was_told_do_not_pass() -> None:
    """688 N are 9.9 % less than 78 kg weigh: both plates are off, or the weight is."""
    checked, _said = check("quiet", Way.HELPER, 78.0)
    assert checked.balance.verdict is Verdict.EVEN and not checked.passed
    assert checked.off == (Side.LEFT, Side.RIGHT)
    told = checked.to_json()
    assert (told["passed"], told["gains_off"], told["weight_kg"]) == (False, ["left", "right"], 78.0)
    left, _right, doubt = checked.gain_words
    assert left.startswith("the left plate reads 10.") and "too little (within" in left and "-" not in left
    assert "78 kg were told" in doubt and "both plates agree, so the weight that was told may be wrong" in doubt


@pytest.mark.soak
def test_plates_that_agree_with_the_weight_that_was_told_pass() -> None:
    checked, _said = check("quiet", Way.HELPER, 688.0 / 9.80665)
    assert checked.passed and checked.off == () and len(checked.gain_words) == 2


@pytest.mark.soak
def test_plates_that_touch_are_seen_by_one_load_on_each() -> None:
    checked, _ = check("quiet,faults=touching", Way.MASSES)
    assert not checked.passed and any("touch" in words for words in checked.view.remarks)


def test_a_plate_that_rocks_does_not_pass() -> None:
    checked, _ = check("quiet,faults=rocking")
    assert not checked.passed and any("the left plate rocks" in words for words in checked.view.remarks)


def test_a_low_limit_of_load_asks_nobody_to_shift() -> None:
    options = replace(OPTIONS, settings=Settings(Side.LEFT, ceiling=Ceiling(percent=30.0)))
    checked, said = check("quiet", options=options)
    assert not checked.passed and checked.balance.reason == NO_WAY
    assert not any("Shift" in words for words in said)


def test_without_a_zero_there_is_no_check() -> None:
    checked, _ = check("quiet,faults=zero-load")
    assert checked.balance.reason == NO_ZERO and checked.to_json()["zero_N"] is None and not checked.passed


def test_time_that_runs_out_is_no_pass() -> None:
    checked, _ = check("quiet", options=replace(OPTIONS, seconds=12.0))
    assert checked.balance.verdict is Verdict.UNTOLD and "in time" in checked.balance.reason


def test_a_scale_that_says_nothing_is_one_line() -> None:
    from weightshare.cli import main

    with pytest.raises(DeviceError):
        check("quiet,faults=noise", options=replace(OPTIONS, seconds=2.0))
    assert main(["calibrate", "check", "--source", "tcp://127.0.0.1:1"]) == 3


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (["--weight-kg", "70"], "--weight-kg"),
        (["--by", "masses", "--ceiling", "20kg"], "--ceiling"),
        (["--by", "helper", "--weight-kg", "2"], "--weight-kg"),
    ],
)
def test_options_that_do_not_go_together_are_refused(
    words: list[str], named: str, capsys: pytest.CaptureFixture[str]
) -> None:
    from weightshare.cli import main

    assert main(["calibrate", "check", *words]) == 2
    assert named in capsys.readouterr().err
