"""What cannot be practised: one line on stderr, the right exit status, nothing on stdout and nothing half-written."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from weightshare.cli import main

Refused = Callable[..., str]


@pytest.fixture
def refused(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Refused:
    """Practise in vain in an empty folder, check what holds for every refusal, and return the line that was told."""
    place = tmp_path / "place"
    place.mkdir()
    monkeypatch.chdir(place)

    def practise(status: int, *arguments: str) -> str:
        try:
            got: int | str | None = main(["practise", "--headless", *arguments])
        except SystemExit as left:
            got = left.code
        told = capsys.readouterr()
        assert got == status, told.err
        assert told.err.count("\n") == 1, told.err
        assert told.out == ""
        assert list(place.iterdir()) == []
        return told.err

    return practise


@pytest.fixture
def given(tiny_calibration: Path) -> list[str]:
    """The options of a session on the tests' scale, saved in the present folder."""
    return ["--calibration", str(tiny_calibration), "--injured", "right", "--target", "75", "--save", ".", "--json"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--source", "tcp://nowhere", "--injured", "left"], "misspelt"),
        (["--source", "rig:", "--source", "rig:"], "--source"),
        (["--source", "tcp://127.0.0.1:9"], "--injured"),
        (["--seconds", "0"], "--seconds"),
        (["--target", "120"], "--target"),
        (["--hold-goal", "0"], "--hold-goal"),
        (["--holds", "0"], "--holds"),
        (["--stage", "heel raise"], "--stage"),
        (["--calibration", "absent.json"], "absent.json"),
        (["--source", "file:absent", "--injured", "left"], "absent"),
        (["--save", "a", "--no-save"], "--no-save"),
        (["--source", "rig:nobody"], "nobody"),
    ],
)
def test_bad_use(refused: Refused, arguments: list[str], words: str) -> None:
    assert words in refused(2, *arguments)


def test_an_address_that_is_none(refused: Refused) -> None:
    assert "misspelt" in refused(2, "--source", "ble:AA:BB", "--injured", "left")


def test_a_port_where_nothing_listens_is_tried_for_some_seconds(refused: Refused, given: list[str]) -> None:
    assert "nothing listens there" in refused(3, "--source", "tcp://127.0.0.1:9", *given)


def test_an_absent_serial_port(refused: Refused, given: list[str]) -> None:
    assert "no such port" in refused(3, "--source", "serial:/dev/ttyNONE9", *given, "--seconds", "0.5")


def test_a_scale_without_calibration(refused: Refused, tiny_scale: Callable[..., Any]) -> None:
    source = tiny_scale(lambda sample: (0, 0)).source
    told = refused(3, "--source", source, "--injured", "left", "--save", ".")
    assert f"weightshare calibrate run --source {source}" in told


def test_another_protocol_version(refused: Refused, given: list[str], tiny_scale: Callable[..., Any]) -> None:
    host = tiny_scale(lambda sample: (0, 0))
    host.scale.protocol = 2
    assert "protocol version 2" in refused(3, "--source", host.source, *given)


def test_another_scales_calibration_is_bad_input(
    refused: Refused, given: list[str], tiny_scale: Callable[..., Any]
) -> None:
    host = tiny_scale(lambda sample: (0, 0))
    host.scale.device_id = bytes.fromhex("00000000000000ff")
    told = refused(2, "--source", host.source, *given)
    assert "00000000000000ff" in told
    assert "0011223344556677" in told


@pytest.mark.parametrize(("noise", "words"), [(b"", "silent"), (b"\x55 noise\x00", "noise")])
def test_silence_and_noise(
    refused: Refused, given: list[str], tiny_scale: Callable[..., Any], noise: bytes, words: str
) -> None:
    host = tiny_scale(lambda sample: (0, 0))
    host.scale.mute, host.scale.noise = True, noise
    assert words in refused(3, "--source", host.source, *given, "--seconds", "3.3")


def test_a_scale_that_answers_but_sends_no_samples(
    refused: Refused, given: list[str], tiny_scale: Callable[..., Any]
) -> None:
    host = tiny_scale(lambda sample: (0, 0))
    host.scale.last_sample = 0
    assert "no data comes" in refused(3, "--source", host.source, *given, "--seconds", "1.5")


def test_a_scale_that_says_it_cannot_start(refused: Refused, given: list[str], tiny_scale: Callable[..., Any]) -> None:
    host = tiny_scale(lambda sample: (0, 0))
    host.scale.start_result = 3
    assert "no sampling rate of its own" in refused(3, "--source", host.source, *given)


def test_a_capture_in_which_no_scale_says_which_it_is(refused: Refused, given: list[str], tmp_path: Path) -> None:
    """It was told to check that the scale is on. The frame is the wire protocol's golden SAMPLES."""
    stuffed = (
        "03 02 07 04 90 d0 03 03 d4 30 01 05 02 ff ff 7f 05 ff ff ff ff 01 01 01 01 02 01 01 01 01 01 02 80 01 02 01 05"
    )
    (tmp_path / "joined.bin").write_bytes(bytes.fromhex(stuffed + " ad 34 84 83 00"))
    told = refused(2, "--source", f"file:{tmp_path / 'joined.bin'}", *given)
    assert "no samples of a scale that says which it is" in told
    assert "weightshare decode --report" in told
