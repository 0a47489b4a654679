"""`weightshare flash`: the real mpremote on a real MicroPython prompt, and the check against the real firmware."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.firmware.boards import FIRMWARE, ROOT, Board, shipped, try_in_peace, wired
from tests.firmware.prompt import PromptBoard
from weightshare.cli import flash, main
from weightshare.errors import DeviceError, OptionError
from weightshare.scales.board import prompt
from weightshare.scales.board.carried import find_carried, read_settings
from weightshare.scales.board.prompt import Facts, check_facts
from weightshare.scales.discovery import Reach


@pytest.fixture
def blank(tmp_path: Path) -> Iterator[PromptBoard]:
    folder = tmp_path / "flash"
    folder.mkdir()
    board = PromptBoard(folder, wired(shipped()))
    yield board
    board.close()


def checked(capsys: pytest.CaptureFixture[str]) -> tuple[bool, dict[str, Any]]:
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == "weightshare.flash/1"
    return told["fit"], {check["name"]: check for check in told["checks"]}


# -- the check ---------------------------------------------------------------------------------------------------------


def run_check(place: Path, capsys: pytest.CaptureFixture[str], **about: object) -> tuple[int, dict[str, Any]]:
    """Status and findings of a check of a board whose converters are `about`."""
    board = Board(place, shipped(), wired(shipped(), **about)).start()
    try:
        status = main(["flash", "--check", board.source, "--seconds", "4", "--json"])
        assert board.complaints == []
        return status, checked(capsys)[1]
    finally:
        board.close()


def test_the_firmware_passes_the_check(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    def attempt(place: Path) -> None:
        status, checks = run_check(place, capsys)
        assert status == 0, checks
        check_names(checks)

    try_in_peace(attempt, tmp_path)


def check_names(checks: dict[str, Any]) -> None:
    assert list(checks) == [
        "identity", "ping", "unknown command", "light", "start", "rate", "clock", "sequence",
        "channel 0", "channel 1", "channel 2", "channel 3", "condition", "stop", "quiet", "frames",
    ]  # fmt: skip


def test_a_cell_that_does_not_answer_fails_it(
    make_board: Callable[..., Board], capsys: pytest.CaptureFixture[str]
) -> None:
    world = wired(shipped())
    world["converters"][2]["kind"] = "never"
    board = make_board(world=world)
    assert main(["flash", "--check", board.source, "--seconds", "3"]) == 1
    said = capsys.readouterr().out
    assert "NOT SO  channel 2         right force at (0, 198): no reading" in said
    assert "a cell does not answer" in said and said.endswith("not yet as it should be.\n")


def test_a_converter_slower_than_the_rate_fails_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    def attempt(place: Path) -> None:
        status, checks = run_check(place, capsys, rate_Hz=10)
        assert status == 1
        assert not checks["channel 0"]["ok"] and "% missing" in checks["channel 0"]["found"]
        assert checks["rate"]["ok"] and checks["sequence"]["ok"]

    try_in_peace(attempt, tmp_path)


def test_the_virtual_scales_pass_it(capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["flash", "--check", "rig:", "--seconds", "3", "--json"])
    assert (status, checked(capsys)[0]) == (0, True)


def test_a_port_where_nobody_answers(tiny_pty: Callable[..., Any], capsys: pytest.CaptureFixture[str]) -> None:
    host = tiny_pty(lambda sample: (0, 0))
    host.scale.mute = True
    assert main(["flash", "--check", host.source, "--seconds", "3"]) == 1
    assert "nothing answers; check that the scale is on" in capsys.readouterr().out


def test_a_scale_that_refuses_nothing_and_tells_no_condition_fails(
    tiny_pty: Callable[..., Any], capsys: pytest.CaptureFixture[str]
) -> None:
    """The tests' own small scale answers an unknown command rightly, and sends one CONDITION in all."""
    host = tiny_pty(lambda sample: (sample % 7, 5))
    assert main(["flash", "--check", host.source, "--seconds", "4", "--json"]) == 1
    _, checks = checked(capsys)
    assert checks["unknown command"]["ok"] and not checks["condition"]["ok"]


def test_an_absent_port_is_a_device_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["flash", "--check", "serial:/dev/ttyNONE9"]) == 3
    assert "no such port" in capsys.readouterr().err


# -- putting it on -----------------------------------------------------------------------------------------------------


def test_a_blank_board_becomes_a_scale(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    def attempt(place: Path) -> None:
        blank = PromptBoard(place, wired(shipped()))
        try:
            words = ["--name", "clinic ü 1", "--links", "usb", "--seconds", "3", "--json"]
            status = main(["flash", "--port", blank.port, *words])
        finally:
            blank.close()
        captured = capsys.readouterr()
        told = json.loads(captured.out)
        assert [check["name"] for check in told["checks"]][:3] == ["firmware", "name", "sides"]
        assert "copying the firmware" in captured.err and "starting the scale" in captured.err
        assert status == 0 and told["fit"], told

    try_in_peace(attempt, tmp_path)
    place = sorted(tmp_path.glob("flash-try-*"))[-1]
    for path in [FIRMWARE / "main.py", *(FIRMWARE / "scale").glob("*.py")]:
        assert (place / path.relative_to(FIRMWARE)).read_bytes() == path.read_bytes()
    assert json.loads((place / "settings.json").read_text()) == shipped() | {"name": "clinic ü 1"}


def test_a_board_that_is_a_scale_already_says_how_to_get_at_it(
    board: Board, capsys: pytest.CaptureFixture[str]
) -> None:
    before = (board.flash / "settings.json").read_bytes()
    assert main(["flash", "--port", board.port]) == 3
    said = capsys.readouterr().err
    assert "firmware 1.0.0" in said and "hold its service pin to ground" in said and said.count("\n") == 1
    assert (board.flash / "settings.json").read_bytes() == before


def test_a_port_without_a_prompt(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    import tty

    monkeypatch.setattr(prompt, "ASK_WITHIN_S", 3.0)
    far, near = os.openpty()
    tty.setraw(near)
    try:
        assert main(["flash", "--port", os.ttyname(near)]) == 3
    finally:
        os.close(far)
        os.close(near)
    assert "no MicroPython prompt answers there" in capsys.readouterr().err


def test_a_board_without_its_scale_after_all(
    blank: PromptBoard, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The service pin is still held to ground: the firmware is there, and does not start."""
    monkeypatch.setattr(flash, "BACK_WITHIN_S", 3.0)
    world = json.loads((blank.flash / "world.json").read_text()) | {"levels": {"21": 0}}
    (blank.flash / "world.json").write_text(json.dumps(world))
    assert main(["flash", "--port", blank.port, "--links", "usb"]) == 3
    assert "take the service pin off ground and press reset" in capsys.readouterr().err


def test_settings_that_cannot_be_used_touch_no_board(
    blank: PromptBoard, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own.json"
    own.write_text(json.dumps(shipped() | {"light": 4}))
    assert main(["flash", "--port", blank.port, "--settings", str(own)]) == 2
    said = capsys.readouterr().err
    assert said == f"weightshare: {own}: channels[0].clock is pin 4, which light has already\n"
    assert not (blank.flash / "main.py").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--name", "x" * 33], "name is text of up to 32 bytes"),
        (["--links", "wire"], "links may be usb, bluetooth"),
        (["--settings", "nowhere.json"], "nowhere.json: No such file"),
        (["--seconds", "1"], "--seconds 1 is out of range"),
        (["--check", "rag:"], "'rag:' is no source"),
        (["--build", "middle"], "invalid choice"),
    ],
)
def test_bad_use_is_one_line(
    words: list[str], said: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(ROOT)
    try:
        status: object = main(["flash", *words])
    except SystemExit as refused:
        status = refused.code
    told = capsys.readouterr().err
    assert status == 2 and said in told and told.count("\n") == 1, told


def test_no_mpremote(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(prompt, "find_spec", lambda name: None)
    assert main(["flash"]) == 2
    assert 'a package that is not installed: python -m pip install "mpremote' in capsys.readouterr().err


@pytest.mark.parametrize(
    ("ports", "status", "said"),
    [
        ([], 3, "no board was found: plug it in"),
        (["COM3", "COM4"], 2, "--port is needed, for there are several: COM3, COM4"),
    ],
)
def test_no_port_and_several(
    ports: list[str], status: int, said: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from weightshare.scales import discovery

    monkeypatch.setattr(discovery, "list_ports", lambda: [Reach(f"serial:{port}", "") for port in ports])
    assert main(["flash"]) == status
    assert said in capsys.readouterr().err


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        (Facts("rp2", "circuitpython", (9, 0), ()), "runs circuitpython, not MicroPython"),
        (Facts("esp32", "micropython", (1, 19), ()), "runs MicroPython 1.19; the firmware needs 1.22 or newer"),
        (Facts("rp2", "micropython", (1, 27), ("bluetooth",)), "has no Bluetooth; take another board"),
        (Facts("rp2", "micropython", (1, 27), ("select",)), "lacks select"),
    ],
)
def test_a_wrong_board_is_told(facts: Facts, said: str) -> None:
    with pytest.raises(DeviceError, match=said):
        check_facts("COM3", facts, ["usb", "bluetooth"])


def test_a_board_without_bluetooth_will_do_by_cable() -> None:
    check_facts("COM3", Facts("rp2", "micropython", (1, 27), ("bluetooth",)), ["usb"])


# -- what is carried ---------------------------------------------------------------------------------------------------


def test_what_is_carried_is_the_checkouts_own() -> None:
    carried = find_carried()
    assert carried.folder == FIRMWARE and carried.version == (1, 0, 0)
    assert {path.name for path in carried.modules} == {path.name for path in (FIRMWARE / "scale").glob("*.py")}


@pytest.mark.parametrize("build", ["both", "left", "right"])
def test_ready_made_settings_pass_the_boards_own_checker(build: str) -> None:
    assert read_settings(find_carried(), build, None, name="a")["name"] == "a"


def test_settings_that_are_no_json(tmp_path: Path) -> None:
    (tmp_path / "x.json").write_text("{")
    with pytest.raises(OptionError, match="is no JSON"):
        read_settings(find_carried(), "both", tmp_path / "x.json")


@pytest.mark.soak
def test_a_wheel_has_the_firmware_in_it(tmp_path: Path) -> None:
    """Built, installed under a folder of its own, and asked from there."""
    source = tmp_path / "source"
    for name in ("weightshare", "hardware/firmware"):
        shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    pip = [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check"]
    subprocess.run([*pip, "wheel", "--no-deps", "--wheel-dir", tmp_path, source], check=True, timeout=240)
    (wheel,) = tmp_path.glob("*.whl")
    subprocess.run([*pip, "install", "--no-deps", "--prefix", tmp_path / "there", wheel], check=True, timeout=120)
    (site,) = (tmp_path / "there").rglob("site-packages")
    code = "from weightshare.scales.board.carried import find_carried as f; print(f().folder, f().version)"
    environment = os.environ | {"PYTHONPATH": str(site)}
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert str(tmp_path / "there") in done.stdout and "(1, 0, 0)" in done.stdout
