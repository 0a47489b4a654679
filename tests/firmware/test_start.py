"""How the board starts, and when it does not."""

from __future__ import annotations

import importlib.util
import json
import re
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from tests.firmware.boards import FIRMWARE, Board, shipped, wired
from weightshare.scales.frame import Who


def load_checker() -> ModuleType:
    """The settings' checker, under this Python: it is plain enough for both."""
    spec = importlib.util.spec_from_file_location("firmware_setting", FIRMWARE / "scale" / "setting.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("build", ["both", "left", "right"])
def test_shipped_settings_start_a_scale(make_board: Callable[..., Board], build: str) -> None:
    settings = shipped(build)
    identity = make_board(settings).ask(Who(1))
    assert identity.name == settings["name"]
    sides = {str(channel.side) for channel in identity.channels}
    assert sides == ({"left", "right"} if build == "both" else {build})


def channel(at: int, **about: object) -> dict[str, Any]:
    settings = shipped()
    settings["channels"][at] |= about
    return settings


REGISTER = {"quantity": "force", "side": "left", "driver": "register", "address": 42, "reading": [18, 3]}

BAD: list[tuple[dict[str, Any] | list[int], str]] = [
    ([1], "settings is an object"),
    (shipped() | {"colour": 1}, "settings.colour is not known"),
    (shipped() | {"name": "x" * 33}, "name is text of up to 32 bytes"),
    (shipped() | {"name": 7}, "name is text"),
    (shipped() | {"rate_Hz": 0}, "rates_Hz is a list that has rate_Hz"),
    (shipped() | {"rate_Hz": 0, "rates_Hz": [0]}, "rates_Hz are 1 to 500"),
    (shipped() | {"rate_Hz": 80.05, "rates_Hz": [80.05]}, "rates_Hz are whole tenths"),
    (shipped() | {"links": []}, "links may be usb, bluetooth"),
    (shipped() | {"links": ["wire"]}, "links may be usb, bluetooth"),
    (shipped() | {"channels": []}, "channels are 1 to 16"),
    (shipped() | {"watchdog_ms": 10}, "watchdog_ms is a whole number from 2000 to 8300"),
    (shipped() | {"light": 4}, "channels[0].clock is pin 4, which light has already"),
    (shipped() | {"light": "2"}, "light is a whole number"),
    (shipped() | {"battery": {"pin": 1}}, "battery.full_mV is missing"),
    (channel(0, driver="three-wire"), "channels[0].driver may be two-wire, register"),
    (channel(1, pulses=24), "channels[1].pulses is a whole number from 25 to 27"),
    (channel(1, pulses=True), "channels[1].pulses is a whole number"),
    (channel(2, side="middle"), "channels[2].side may be left, right"),
    (channel(2, quantity="weight"), "channels[2].quantity may be force, heel height, temperature"),
    (channel(3, x_mm=1.5), "channels[3].x_mm is a whole number"),
    (channel(3, clock=None), "channels[3].clock is missing"),
    (channel(3, data=4), "channels[3].data is pin 4, which channels[0].clock has already"),
    (shipped() | {"channels": [REGISTER]}, "channels[0].bus is the id of one of buses"),
    (shipped() | {"buses": [{"id": 0, "scl": 9}]}, "buses[0].sda is missing"),
]
BUSES = {"buses": [{"id": 0, "scl": 9, "sda": 8}]}
BAD += [
    (shipped() | BUSES | {"channels": [REGISTER | about]}, words)
    for about, words in (
        ({"address": 200}, "channels[0].address is a whole number from 8 to 119"),
        ({"register_bits": 12}, "channels[0].register_bits is 8 or 16"),
        ({"reading": [18, 4]}, "channels[0].reading is a whole number from 1 to 3"),
        ({"reading": 18}, "channels[0].reading is a pair"),
        ({"setup": [1, 2]}, "channels[0].setup is a pair"),
        ({"factor": 1000}, "channels[0] comes to readings that are too large"),
        ({"quantity": "heel height"}, "channels has no force channel"),
    )
]


@pytest.mark.parametrize(("settings", "words"), BAD, ids=[words for _, words in BAD])
def test_settings_that_cannot_be_used_are_refused_by_name(settings: object, words: str) -> None:
    with pytest.raises(ValueError, match=re.escape(words)):
        load_checker().check(settings)


def test_the_board_refuses_in_the_same_words(micropython: Callable[..., str], tmp_path: Path) -> None:
    (tmp_path / "bad.json").write_text(json.dumps([settings for settings, _ in BAD]))
    code = """
import json
from scale import setting
for one in json.load(open("bad.json")):
    try:
        setting.check(one)
        print("taken")
    except ValueError as error:
        print(error)
"""
    said = micropython(code).splitlines()
    assert [words in line for (_, words), line in zip(BAD, said, strict=True)] == [True] * len(BAD)


@pytest.mark.parametrize("text", [None, "{", '{"channels": []}', "[]"])
def test_a_board_whose_settings_cannot_be_used_measures_nothing(
    make_board: Callable[..., Board], text: str | None
) -> None:
    board = make_board(start=False)
    if text is None:
        (board.flash / "settings.json").unlink()
    else:
        (board.flash / "settings.json").write_text(text)
    board.plug()
    board.start()
    assert board.wait_stopped() == 0
    board.listen(0.3)
    assert board.wire.startswith(b"settings.json: ")
    assert not (board.flash / "boots.txt").exists()


def test_the_service_pin_keeps_it_from_starting(make_board: Callable[..., Board]) -> None:
    board = make_board(world=wired(shipped()) | {"levels": {"21": 0}}, start=False)
    board.plug()
    board.start()
    assert board.wait_stopped() == 0
    board.listen(0.3)
    assert b"service" in board.wire


def test_what_stops_it_is_kept_and_it_starts_again(make_board: Callable[..., Board]) -> None:
    """Where the world lacks an analogue pin, reading the battery fails as nothing should."""
    board = make_board(shipped() | {"battery": {"pin": 1, "full_mV": 8400}})
    board.begin()
    assert board.wait_stopped() == 3
    assert "reset" in board.log
    assert "KeyError" in (board.flash / "fault.txt").read_text()


def test_a_count_of_boots_that_was_cut_short_begins_anew(make_board: Callable[..., Board]) -> None:
    board = make_board(start=False)
    (board.flash / "boots.txt").write_text("1x")
    (board.flash / "boots.new").write_text("")
    board.start()
    assert board.ask(Who(1)).boot_count == 1
    (board.flash / "boots.txt").write_text("65535")
    board.stop()
    board.start()
    assert board.ask(Who(1)).boot_count == 0


def test_the_watchdog_is_fed(board: Board) -> None:
    board.begin()
    board.listen(1.0)
    assert "watchdog 8000" in board.log and "watchdog bites" not in board.log
