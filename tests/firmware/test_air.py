"""The link by Bluetooth, as far as it goes without a radio: the board's Bluetooth is simulated.

A host's own Bluetooth against the real radio is to be verified on the bench (hardware/firmware/README.md).
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tests.firmware.boards import FIRMWARE, SHADOW
from weightshare.scales.air.profile import COMMANDS, FRAMES, LEAST_PAYLOAD, SERVICE
from weightshare.scales.frame import Kind, Ping, Result, Start, Stop, Who, encode, open_frame, parse_message

BEGIN = """
import json
import bluetooth
from scale import board, setting
from scale.clock import Clock
from scale.light import Light
from scale.battery import Battery
from scale.station import Station
from scale.air import AirLink, CONNECTED, DISCONNECTED, WRITTEN, MTU_CHANGED
import time

settings = setting.load("settings.json")

class Cable:
    payload = 1028
    def __init__(self): self.said, self.out = [], []
    def receive(self): return self.said.pop(0) if self.said else None
    def lost(self): return False
    def idle(self): return True
    def send(self, frame): self.out.append(bytes(frame)); return True
    def pump(self): pass

air, cable = AirLink(b"weightshare pair"), Cable()
radio = bluetooth.BLE.made[0]
station = Station(board.Who(settings, 1), [air, cable], sampler=board.make_sampler(settings), clock=Clock(),
                  light=Light(None), battery=Battery(None))

def say(text, link=air):
    if link is cable:
        cable.said.append(bytes.fromhex(text)[:-4])
    else:
        radio.written = bytes.fromhex(text)
        radio.hear(WRITTEN, (0, 1))
    turn(0.02)

def turn(seconds):
    until = time.ticks_add(time.ticks_ms(), int(seconds * 1000))
    while time.ticks_diff(until, time.ticks_ms()) > 0:
        station.step()
        time.sleep_ms(1)

def heard():
    return [data.hex() for _, _, data in radio.notified]
"""


def run(micropython: Callable[..., str], folder: Path, code: str, world: dict[str, Any] | None = None) -> Any:
    (folder / "settings.json").write_text((FIRMWARE / "settings" / "both.json").read_text())
    (folder / "world.json").write_text(json.dumps(world or {"converters": [{"clock": 4, "data": 5}]}))
    return json.loads(micropython(BEGIN + code))


def said(frames: list[str]) -> list[Any]:
    bodies = [open_frame(bytes.fromhex(frame)) for frame in frames]
    assert None not in bodies
    return [parse_message(body, 4) for body in bodies if body is not None]


def test_the_service_is_that_of_the_protocol(micropython: Callable[..., str], tmp_path: Path) -> None:
    told = run(micropython, tmp_path, """
adv, answer = radio.advertised[0][1:]
((uuid, chars),) = radio.services
print(json.dumps([uuid.text, [(c.text, f) for c, f in chars], adv.hex(), answer.hex(), radio.settings["mtu"]]))
""")  # fmt: skip
    assert told[0] == SERVICE
    assert told[1] == [
        [FRAMES, 0x10],
        [COMMANDS, 0x08],
    ]  # notify; write with response: Core Specification 5.4, 3.G.3.3.1.1
    advert, answer = bytes.fromhex(told[2]), bytes.fromhex(told[3])
    assert advert == b"\x02\x01\x06" + b"\x11\x07" + bytes(reversed(bytes.fromhex(SERVICE.replace("-", ""))))
    assert answer == b"\x11\x09weightshare pair"
    assert max(len(advert), len(answer)) <= 31 and told[4] - 3 >= LEAST_PAYLOAD


def test_a_session_by_air(micropython: Callable[..., str], tmp_path: Path) -> None:
    frames = run(micropython, tmp_path, f"""
radio.hear(CONNECTED, (7, 0, b""))
radio.hear(MTU_CHANGED, (7, 247))
for text in {[encode(command).hex() for command in (Who(1), Start(2), Ping(3))]}:
    say(text)
turn(0.5)
say("{encode(Stop(4)).hex()}")
stopped = len(radio.notified)
turn(0.2)
assert len(radio.notified) == stopped
assert all([connection == 7 for connection, _, _ in radio.notified])
print(json.dumps(heard()))
""")  # fmt: skip
    messages = said(frames)
    kinds = [bytes.fromhex(frame)[0] for frame in frames]
    assert kinds[:3] == [Kind.IDENTITY, Kind.REPLY, Kind.ECHO] and kinds[-1] == Kind.REPLY
    assert 7 <= kinds.count(Kind.SAMPLES) <= 11
    assert {message.readings.shape for message in messages[3:-1]} == {(1, 4, 4)}
    assert max(len(bytes.fromhex(frame)) for frame in frames) <= 244


def test_who_samples_by_one_link_is_busy_for_the_other(micropython: Callable[..., str], tmp_path: Path) -> None:
    frames = run(micropython, tmp_path, f"""
radio.hear(CONNECTED, (7, 0, b""))
radio.hear(MTU_CHANGED, (7, 247))
say("{encode(Start(1)).hex()}")
for text in {[encode(command).hex() for command in (Start(2), Stop(3), Who(4), Ping(5))]}:
    say(text, cable)
turn(0.2)
radio.hear(DISCONNECTED, (7, 0, b""))
turn(0.05)
say("{encode(Start(6)).hex()}", cable)
turn(0.2)
print(json.dumps([frame.hex() for frame in cable.out]))
""")  # fmt: skip
    messages = said(frames)
    assert [message.result for message in messages[:2]] == [Result.BUSY, Result.BUSY]
    assert [bytes.fromhex(frame)[0] for frame in frames[2:5]] == [Kind.IDENTITY, Kind.ECHO, Kind.REPLY]
    assert messages[4].result is Result.DONE
    assert Kind.SAMPLES in [bytes.fromhex(frame)[0] for frame in frames[5:]]


def test_a_host_that_went_away_ends_the_samples_and_another_may_come(
    micropython: Callable[..., str], tmp_path: Path
) -> None:
    before, after, advertised = run(micropython, tmp_path, f"""
radio.hear(CONNECTED, (7, 0, b""))
radio.hear(MTU_CHANGED, (7, 247))
say("{encode(Start(1)).hex()}")
turn(0.2)
radio.hear(DISCONNECTED, (7, 0, b""))
turn(0.05)
before = len(radio.notified)
radio.hear(CONNECTED, (8, 0, b""))
radio.hear(MTU_CHANGED, (8, 247))
turn(0.2)
say("{encode(Ping(9)).hex()}")
print(json.dumps([before, heard()[before:], len(radio.advertised)]))
""")  # fmt: skip
    assert before > 2 and advertised == 2
    assert [message.nonce for message in said(after)] == [9]


def test_what_the_radio_has_no_room_for_is_sent_later(micropython: Callable[..., str], tmp_path: Path) -> None:
    frames = run(micropython, tmp_path, f"""
radio.hear(CONNECTED, (7, 0, b""))
radio.hear(MTU_CHANGED, (7, 247))
say("{encode(Start(1)).hex()}")
turn(0.15)
radio.room = 0
turn(0.3)
radio.room = 100
turn(0.15)
print(json.dumps(heard()))
""")  # fmt: skip
    sequences = [int(message.sequence[0]) for message in said(frames)[1:]]
    assert sequences == list(range(len(sequences))) and len(sequences) >= 9


def test_a_link_that_carries_less_has_shorter_frames_and_none_is_cut(
    micropython: Callable[..., str], tmp_path: Path
) -> None:
    frames = run(micropython, tmp_path, f"""
radio.hear(CONNECTED, (7, 0, b""))
say("{encode(Who(1)).hex()}")  # 20 bytes: an identity does not fit
assert not radio.notified
radio.hear(MTU_CHANGED, (7, 51))
say("{encode(Start(1)).hex()}")
turn(0.3)
print(json.dumps(heard()))
""")  # fmt: skip
    assert {message.readings.shape for message in said(frames)[1:]} == {(1, 2, 4)}
    assert max(len(bytes.fromhex(frame)) for frame in frames) == 48


def test_noise_by_air_is_passed_over(micropython: Callable[..., str], tmp_path: Path) -> None:
    frames = run(micropython, tmp_path, f"""
radio.hear(CONNECTED, (7, 0, b""))
radio.hear(MTU_CHANGED, (7, 247))
for size in range(70):
    radio.written = bytes(range(size))
    radio.hear(WRITTEN, (7, 1))
    if size % 5 == 0:
        turn(0.004)
turn(0.02)
say("{encode(Ping(5)).hex()}")
print(json.dumps(heard()))
""")  # fmt: skip
    assert [message.nonce for message in said(frames)] == [5]


def test_silence_of_thirty_seconds_ends_the_samples(micropython: Callable[..., str], tmp_path: Path) -> None:
    """The station's clock is handed in here; `make soak` waits the real half minute."""
    counts = run(micropython, tmp_path, f"""
class Skipping(Clock):
    skipped = 0
    def now(self):
        return (super().now() + self.skipped) & 0xFFFFFFFF
clock = Skipping()
station._clock = clock
cable.said.append(bytes.fromhex("{encode(Start(1)).hex()}")[:-4])
turn(0.2)
counts = [len(cable.out)]
for skip in (29000000, 31000000):
    clock.skipped = skip
    turn(0.05)
    before = len(cable.out)
    turn(0.2)
    counts.append(len(cable.out) - before)
print(json.dumps(counts))
""")  # fmt: skip
    assert counts[0] > 2 and counts[1] > 0 and counts[2] == 0


def test_the_simulated_parts_are_the_tests_own() -> None:
    """Nothing of the board's simulation is among what goes on to a real board."""
    ours = {path.name for path in SHADOW.glob("*.py")}
    assert ours & {path.name for path in FIRMWARE.rglob("*.py")} == set()
