"""Which scale a session takes, with which calibration; and what is told of it on the way."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from weightshare.cli import build_parser
from weightshare.errors import CalibrationError, DeviceError, OptionError, ProtocolError, WeightshareError
from weightshare.model import Calibration, Channel, ChannelCalibration, Identity, Quantity, Side
from weightshare.practice.judge import Chosen, Judge
from weightshare.practice.option import PractiseOptions
from weightshare.practice.watch import Watch
from weightshare.records.calibration import write_calibration
from weightshare.records.place import calibration_folder
from weightshare.scales.conversation import WAIT
from weightshare.scales.link import Phase, Status
from weightshare.scales.rig import rig_calibration
from weightshare.scales.rig.cell import CHANNELS, PAIR_ID
from weightshare.task import Goal, Settings

BOTH = (Channel(Quantity.FORCE, Side.LEFT), Channel(Quantity.FORCE, Side.RIGHT))
SCALE = Identity("0011223344556677", (1, 0, 0), 1, 1_000_000, 80.0, BOTH)
OWN = Calibration(
    SCALE.device_id,
    date(2026, 1, 1),
    tuple(ChannelCalibration(index, 0.0, 0.01) for index in range(2)),
    date(2027, 1, 1),
)
TODAY = date(2026, 6, 1)
SOURCE = "tcp://127.0.0.1:7000"
PAIR = (SOURCE, "tcp://127.0.0.1:7001")


@pytest.fixture
def own_file(tmp_path: Path) -> Path:
    write_calibration(tmp_path / "own.json", OWN)
    return tmp_path / "own.json"


def make_judge(*files: Path, today: date = TODAY) -> tuple[Judge, list[Calibration]]:
    accepted: list[Calibration] = []
    return Judge([SOURCE], files, lambda chosen: accepted.extend(chosen.calibrations), today), accepted


def test_a_scale_is_taken_with_the_calibration_given_for_it(own_file: Path) -> None:
    judge, accepted = make_judge(own_file)
    assert judge(SCALE) is None
    assert judge(SCALE) is None
    assert accepted == [OWN]
    assert judge.calibrations == (OWN,)
    assert judge.faults == [None]
    assert judge.expired == ()


def test_a_scale_is_taken_with_the_users_own_calibration() -> None:
    path = calibration_folder() / f"{SCALE.device_id}.json"
    write_calibration(path, OWN)
    try:
        judge, accepted = make_judge()
        assert judge(SCALE) is None
        assert accepted == [OWN]
    finally:
        path.unlink()


def test_the_virtual_scale_needs_no_file() -> None:
    judge, accepted = make_judge()
    assert judge(replace(SCALE, device_id=PAIR_ID, channels=CHANNELS)) is None
    assert accepted == [rig_calibration()]


def test_a_scale_without_calibration_is_refused_with_the_command_that_makes_one() -> None:
    judge, accepted = make_judge()
    words = judge(SCALE)
    assert words is not None
    assert "weightshare calibrate run --source tcp://127.0.0.1:7000" in words
    (fault,) = judge.faults
    assert isinstance(fault, DeviceError)
    assert fault.exit_status == 3
    assert accepted == []


def test_the_command_that_is_named_can_be_given() -> None:
    """The refusal named a command, and the command was called an invalid choice; later it lacked its masses."""
    judge, _ = make_judge()
    named = re.search("`weightshare ([^`]*)`", judge(SCALE) or "")
    assert named is not None
    assert build_parser().parse_args(named[1].split()).source == SOURCE


def test_another_scales_calibration_is_refused_naming_both(own_file: Path) -> None:
    judge, _ = make_judge(own_file)
    words = judge(replace(SCALE, device_id="00000000000000ff"))
    assert words is not None
    assert "00000000000000ff" in words
    assert SCALE.device_id in words
    assert str(own_file) in words
    assert isinstance(judge.faults[0], CalibrationError)


def test_a_given_file_is_not_passed_over_for_a_built_in_calibration(own_file: Path) -> None:
    judge, _ = make_judge(own_file)
    assert judge(replace(SCALE, device_id=PAIR_ID, channels=CHANNELS)) is not None


def test_another_scale_in_the_middle_of_a_session_is_refused(own_file: Path) -> None:
    judge, accepted = make_judge(own_file)
    judge(SCALE)
    words = judge(replace(SCALE, device_id=PAIR_ID, channels=CHANNELS))
    assert words is not None
    assert PAIR_ID in words
    assert SCALE.device_id in words
    assert judge(SCALE) is None
    assert judge.faults == [None]
    assert accepted == [OWN]


def test_a_calibration_that_leaves_a_channel_out_is_refused(tmp_path: Path) -> None:
    write_calibration(tmp_path / "part.json", replace(OWN, channels=OWN.channels[:1]))
    judge, _ = make_judge(tmp_path / "part.json")
    assert "force channel 1" in (judge(SCALE) or "")


def test_a_scale_with_one_side_only_is_refused(own_file: Path) -> None:
    judge, _ = make_judge(own_file)
    assert "no force channel for the right foot" in (judge(replace(SCALE, channels=BOTH[:1] * 2)) or "")
    assert isinstance(judge.faults[0], ProtocolError)


def of_side(side: Side | None, device_id: str) -> Identity:
    return replace(SCALE, device_id=device_id, channels=(Channel(Quantity.FORCE, side),))


def judge_two(files: tuple[Path, ...], sides: tuple[Side, Side] | None = None) -> tuple[Judge, list[Chosen]]:
    accepted: list[Chosen] = []
    return Judge(PAIR, files, accepted.append, TODAY, sides), accepted


OTHER = replace(OWN, device_id="0011223344556688")


@pytest.fixture
def two_files(own_file: Path, tmp_path: Path) -> tuple[Path, Path]:
    write_calibration(tmp_path / "other.json", OTHER)
    return tmp_path / "other.json", own_file


@pytest.mark.parametrize(
    ("told", "given", "found"),
    [
        ((Side.LEFT, Side.RIGHT), None, (Side.LEFT, Side.RIGHT)),
        ((Side.RIGHT, None), None, (Side.RIGHT, Side.LEFT)),
        ((None, Side.LEFT), None, (Side.RIGHT, Side.LEFT)),
        ((None, None), None, (Side.LEFT, Side.RIGHT)),
        ((Side.LEFT, Side.LEFT), (Side.RIGHT, Side.LEFT), (Side.RIGHT, Side.LEFT)),
        ((Side.LEFT, Side.RIGHT), (Side.RIGHT, Side.LEFT), (Side.RIGHT, Side.LEFT)),
    ],
)
def test_two_scales_wait_for_each_other_and_are_under_the_feet_that_they_or_somebody_say(
    two_files: tuple[Path, Path],
    told: tuple[Side | None, Side | None],
    given: tuple[Side, Side] | None,
    found: tuple[Side, Side],
) -> None:
    judge, accepted = judge_two(two_files, given)
    first, second = of_side(told[0], OWN.device_id), of_side(told[1], OTHER.device_id)
    assert judge(second, 1) == WAIT
    assert judge(second, 1) == WAIT and not accepted
    assert judge(first, 0) is None and judge(second, 1) is None
    (chosen,) = accepted
    assert (chosen.calibrations, chosen.sides) == ((OWN, OTHER), found)


def test_one_scale_by_two_sources_is_told_as_such(two_files: tuple[Path, Path]) -> None:
    """It was told that both were left ones, and to say which is which."""
    judge, accepted = judge_two(two_files)
    assert judge(of_side(Side.LEFT, OWN.device_id), 0) == WAIT
    assert "both sources lead to the same scale" in (judge(of_side(Side.LEFT, OWN.device_id), 1) or "")
    assert accepted == []


def test_one_file_for_two_scales_leaves_the_other_without(two_files: tuple[Path, Path]) -> None:
    """It was told that the file is not its own."""
    judge, _ = judge_two(two_files[1:])
    assert judge(of_side(Side.LEFT, OWN.device_id), 0) == WAIT
    words = judge(of_side(Side.RIGHT, OTHER.device_id), 1) or ""
    assert f"scale {OTHER.device_id} has no calibration" in words and PAIR[1] in words


def test_a_calibration_past_its_date_is_told(own_file: Path) -> None:
    judge, _ = make_judge(own_file, today=date(2027, 1, 2))
    assert judge(SCALE) is None
    assert "was valid until 2027-01-01" in judge.expired[0]


def test_a_sessions_own_calibration_goes_with_it() -> None:
    judge, accepted = make_judge()
    judge.add([OWN])
    assert judge(SCALE) is None
    assert accepted == [OWN]


def test_a_file_that_cannot_be_read_is_refused_at_once(tmp_path: Path) -> None:
    with pytest.raises(CalibrationError, match=r"none\.json: there is no such file"):
        make_judge(tmp_path / "none.json")


@pytest.mark.parametrize(
    ("changes", "option"),
    [
        ({"seconds": 0.0}, "--seconds"),
        ({"seconds": float("nan")}, "--seconds"),
        ({"sources": ("rig:", "rig:")}, "--source"),
        ({"sources": ()}, "--source"),
        ({"sources": (SOURCE,), "calibrations": (Path("a"), Path("b"))}, "--calibration"),
        ({"calibrations": (Path("a"), Path("b"))}, "--calibration"),
        ({"sources": PAIR, "calibrations": (Path("a"), Path("b"), Path("c"))}, "--calibration"),
        ({"sources": (SOURCE, SOURCE)}, "--source"),
        ({"sources": (SOURCE,), "sides": (Side.LEFT, Side.RIGHT)}, "--sides"),
        ({"sides": (Side.LEFT, Side.RIGHT)}, "--sides"),
        ({"sources": PAIR, "sides": (Side.LEFT, Side.LEFT)}, "--sides"),
    ],
)
def test_options_that_cannot_be_are_named(changes: dict[str, Any], option: str) -> None:
    with pytest.raises(OptionError) as refusal:
        PractiseOptions(Settings(Side.LEFT), Goal(), **changes)
    assert str(refusal.value).startswith(option)
    assert isinstance(refusal.value, WeightshareError)


def test_losing_the_link_and_finding_it_is_told_in_order_and_once() -> None:
    watch = Watch()
    lost = Status(Phase.LOST, "unplugged; trying to connect again", "unplugged")
    absent = Status(Phase.LOST, "there is no such port; trying again", "there is no such port")
    back = Status(Phase.SAMPLING, "the link is back")
    for status, time_s in ((back, None), (back, 1.0), (lost, 2.0), (absent, 2.0), (back, 2.0), (back, 5.0)):
        watch.follow(status, time_s, sampled=True)
    assert list(watch.messages) == ["the link was lost at 2.0 s: unplugged", "the link is back at 5.0 s"]
    watch.follow(lost, 9.0, sampled=True)
    assert list(watch.messages[2:]) == ["the link was lost at 9.0 s: unplugged"]


def test_a_link_is_not_called_back_before_a_sample_is() -> None:
    """A scale that answered to START, and then sent nothing, was told as back."""
    watch = Watch()
    watch.follow(Status(Phase.LOST, "no data comes", "no data comes"), 8.0, sampled=True)
    watch.follow(Status(Phase.SAMPLING, "the link is back"), 8.0, sampled=True)
    assert watch.messages == ("the link was lost at 8.0 s: no data comes",)


def test_what_never_sampled_was_not_lost() -> None:
    watch = Watch()
    watch.follow(Status(Phase.LOST, "no data comes", "no data comes"), None, sampled=False)
    assert watch.messages == ()


def test_a_message_is_kept_once_and_an_empty_one_not_at_all() -> None:
    watch = Watch()
    for message in ("a", "", "b", "a"):
        watch.tell(message)
    assert watch.messages == ("a", "b")


def test_a_calibration_from_the_future_is_refused_in_words(own_file: Path) -> None:
    judge, accepted = make_judge(own_file, today=date(2025, 12, 31))
    words = judge(SCALE)
    assert words is not None and "is dated 2026-01-01, and today is 2025-12-31; correct this computer's date" in words
    assert isinstance(judge.faults[0], CalibrationError) and accepted == []
    same_day, _ = make_judge(own_file, today=OWN.made_on)
    assert same_day(SCALE) is None
