"""The spelling of sources."""

from __future__ import annotations

from pathlib import Path

import pytest

from weightshare.errors import OptionError
from weightshare.scales.cable import SerialTransport
from weightshare.scales.source import (
    BleSource,
    FileSource,
    RigSource,
    SerialSource,
    Source,
    TcpSource,
    open_source,
    parse_source,
)
from weightshare.scales.tcp import TcpTransport


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("rig:", RigSource("")),
        ("rig:person=steady", RigSource("person=steady")),
        ("tcp://127.0.0.1:7000", TcpSource("127.0.0.1", 7000)),
        ("tcp://scale.local:1", TcpSource("scale.local", 1)),
        ("tcp://[::1]:65535", TcpSource("::1", 65535)),
        ("serial:/dev/ttyACM0", SerialSource("/dev/ttyACM0", 115_200)),
        ("serial:COM3@921600", SerialSource("COM3", 921_600)),
        ("serial:/dev/serial/by-id/usb-a@b-if00@9600", SerialSource("/dev/serial/by-id/usb-a@b-if00", 9600)),
        ("file:here/raw.wsr", FileSource(Path("here/raw.wsr"))),
        ("file:C:\\sessions\\raw.wsr", FileSource(Path("C:\\sessions\\raw.wsr"))),
    ],
)
def test_a_source_means_what_it_says(text: str, meant: Source) -> None:
    assert parse_source(text) == meant


@pytest.mark.parametrize(
    ("text", "example"),
    [
        ("", "rig:"),
        ("/dev/ttyACM0", "serial:/dev/ttyACM0"),
        ("usb:1", "serial:/dev/ttyACM0"),
        ("tcp:127.0.0.1:7000", "tcp://"),
        ("tcp://127.0.0.1", "tcp://192.168.1.20:7000"),
        ("tcp://127.0.0.1:0", "tcp://192.168.1.20:7000"),
        ("tcp://127.0.0.1:65536", "tcp://192.168.1.20:7000"),
        ("tcp://127.0.0.1:70x0", "tcp://192.168.1.20:7000"),
        ("tcp://:7000", "tcp://192.168.1.20:7000"),
        ("serial:", "serial:COM3"),
        ("serial:@9600", "serial:COM3"),
        ("serial:COM3@fast", "serial:COM3"),
        ("serial:COM3@²", "serial:COM3"),
        ("serial:COM3@0", "serial:COM3"),
        ("file:", "file:session-"),
        ("ble:", "ble:AA"),
        ("ble:AA:BB", "ble:AA:BB:CC"),
    ],
)
def test_a_misspelt_source_is_refused_with_an_example(text: str, example: str) -> None:
    with pytest.raises(OptionError) as refusal:
        parse_source(text)
    message = str(refusal.value)
    assert message.startswith("--source ")
    assert example in message
    assert "\n" not in message


def test_a_scale_by_bluetooth_is_its_address_in_capitals() -> None:
    assert parse_source("ble:aa:bb:cc:dd:ee:0f") == BleSource("AA:BB:CC:DD:EE:0F")
    uuid = "0e3b4a4c-6f5d-4c3e-9d3a-2f6a7b8c9d0e"
    assert parse_source(f"ble:{uuid}") == BleSource(uuid.upper())


@pytest.mark.parametrize("name", ["tcp://127.0.0.1:7000", "tcp://[::1]:7000", "serial:COM3", "serial:COM3@9600"])
def test_a_transport_is_named_as_its_source_is_spelt(name: str) -> None:
    transport = open_source(parse_source(name))
    assert isinstance(transport, TcpTransport | SerialTransport)
    assert transport.name == name
