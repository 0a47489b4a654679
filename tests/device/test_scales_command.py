"""Which scales are found, and what a port answers when it is asked."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from typing import Any

import pytest

from weightshare.cli.scales import to_json, to_table
from weightshare.scales.discovery import Reach, list_rigs, probe
from weightshare.scales.source import RigSource, open_source, parse_source


def test_a_scale_that_answers_is_named_and_not_started(tiny_pty: Callable[..., Any]) -> None:
    host = tiny_pty(lambda sample: (0, 0))
    found = probe(Reach(host.source, "a cable"))
    assert found.answer == "scale 0011223344556677 (tiny)"
    assert to_json(found) == {
        "source": host.source,
        "description": "a cable",
        "answer": "scale 0011223344556677 (tiny)",
        "device_id": "0011223344556677",
        "name": "tiny",
    }
    host.close()
    assert {body[0] for body in host.scale.heard} == {0x81}


def test_a_silent_port_and_an_absent_one_are_told(tiny_pty: Callable[..., Any]) -> None:
    host = tiny_pty(lambda sample: (0, 0))
    host.scale.mute = True
    assert probe(Reach(host.source, "a cable")).answer == "no scale answers"
    assert "no such port" in probe(Reach("serial:/dev/ttyNONE9", "")).answer


def test_a_port_in_use_is_told(tiny_pty: Callable[..., Any]) -> None:
    host = tiny_pty(lambda sample: (0, 0))
    transport = open_source(parse_source(host.source))
    transport.open()
    try:
        assert "in use" in probe(Reach(host.source, "")).answer
    finally:
        transport.close()


def test_every_virtual_scale_listed_can_be_opened() -> None:
    rigs = list_rigs()
    assert len(rigs) >= 7
    for reach in rigs:
        source = parse_source(reach.source)
        assert isinstance(source, RigSource)
        transport = open_source(source)
        transport.open()
        transport.close()


def test_the_table_is_aligned_and_says_what_to_do() -> None:
    table = to_table([Reach("rig:a", "one"), Reach("rig:longer", "two")]).splitlines()
    assert table[0].index("one") == table[1].index("two")
    assert "no serial port was found" in table[2]
    assert "practise --source" in table[-1]
    assert "no serial port" not in to_table([Reach("serial:COM3", "USB", "no scale answers")])


NO_BUS = {**os.environ, "DBUS_SYSTEM_BUS_ADDRESS": "unix:path=/nowhere/bus"}
"""A machine on which no Bluetooth service runs, whatever this one has."""


@pytest.mark.parametrize("arguments", [["--json"], []])
def test_the_command_prints_one_object_or_a_table(arguments: list[str]) -> None:
    command = [sys.executable, "-W", "error", "-m", "weightshare", "scales", *arguments]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True, env=NO_BUS)
    assert done.stderr == ""
    if arguments:
        told = json.loads(done.stdout)
        assert "rig:steady" in [scale["source"] for scale in told["scales"]]
        assert "Bluetooth service does not run" in told["bluetooth"]
    else:
        assert "rig:steady" in done.stdout
        assert "no Bluetooth: this computer's Bluetooth service does not run" in done.stdout


def test_nobody_is_listened_for_by_air_where_that_is_not_wanted() -> None:
    command = [sys.executable, "-W", "error", "-m", "weightshare", "scales", "--json", "--no-air"]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True, env=os.environ)
    assert json.loads(done.stdout)["bluetooth"] is None
