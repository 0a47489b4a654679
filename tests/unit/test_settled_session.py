"""A session of settled readings: what is taken, kept and told."""

from __future__ import annotations

import io
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest

from tests.unit.settling import BEGAN, ToldListener, clock, heard, of_kg
from weightshare.cli.settled import SettledTeller, practise_settled, say_taken, to_json
from weightshare.errors import DeviceError
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.option import PractiseOptions
from weightshare.practice.settledsession import SettledSession
from weightshare.practice.settledview import LIMIT
from weightshare.scales.air.settled import Heard, SettledPhase, SettledStatus
from weightshare.scales.air.weighing import MassUnit, Weighing
from weightshare.task import Settings

LEFT, RIGHT = Side
ONE, TWO = ("ble:00:00:5E:00:53:21",), ("ble:00:00:5E:00:53:21", "ble:00:00:5E:00:53:22")


@dataclass
class Visit:
    """A session with told scales, at a time that a test sets."""

    session: SettledSession
    listeners: list[ToldListener]
    now_s: list[float] = field(default_factory=lambda: [0.0])

    def say(self, scale: int, reading: Heard) -> None:
        self.now_s[0] = reading.arrived_ns / 1e9
        self.listeners[scale].deliver(reading)


@pytest.fixture(autouse=True)
def all_stopped() -> Iterator[None]:
    yield
    while begun:
        begun.pop().stop()


begun: list[SettledSession] = []


def visit(
    place: Path, sources: tuple[str, ...] = ONE, *, record: bool = True, settings: Settings | None = None
) -> Visit:
    now_s, listeners = [0.0], list[ToldListener]()

    def listen(source: str, deliver: Callable[[Heard], None]) -> ToldListener:
        listeners.append(ToldListener(source, deliver))
        return listeners[-1]

    options = PractiseOptions(settings or Settings(RIGHT), sources=sources, save=place, record=record)
    session = SettledSession(options, listen, lambda: round(now_s[0] * 1e9), lambda: BEGAN)
    session.start()
    begun.append(session)
    return Visit(session, listeners, now_s)


def kept(place: Path) -> list[dict[str, object]]:
    (path,) = place.iterdir()
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def test_one_scale_is_under_the_injured_foot_and_two_are_left_and_right(tmp_path: Path) -> None:
    one, two = visit(tmp_path), visit(tmp_path, TWO)
    assert [side.side for side in one.session.view().sides] == [RIGHT]
    assert [side.side for side in two.session.view().sides] == [LEFT, RIGHT]
    assert [listener.source for listener in two.listeners] == list(TWO)


def test_each_reading_is_kept_as_it_came(tmp_path: Path) -> None:
    run = visit(tmp_path, TWO)
    run.say(0, of_kg(30, 5))
    run.say(1, heard(Weighing(8000, MassUnit.LB, clock(7), 2), 7))
    run.say(1, heard(Weighing(None), 20))
    run.say(1, heard(None, 30, "flag 4"))
    run.session.view()
    run.session.stop()
    head, *lines = kept(tmp_path)
    assert head["schema"] == "weightshare.readings/1" and head["injured_side"] == "right"
    assert [line["side"] for line in lines] == ["left", "right", "right", "right"]
    assert [line["load_kg"] for line in lines] == [30, 36.28739, None, None]
    assert (lines[1]["reading"], lines[1]["unit"], lines[1]["user"]) == (80, "lb", 2)
    assert lines[1]["scale_time"] == "2026-11-24T14:30:07" and lines[1]["at"] == "2026-11-24T14:30:07.000+01:00"
    # 36.2873896 of 66.2873896 kg
    assert lines[0]["share_percent"] is None and lines[1]["share_percent"] == pytest.approx(54.7425, abs=1e-4)
    assert lines[2]["failed"] is True and lines[3]["fault"] == "flag 4"
    assert run.session.place == next(tmp_path.iterdir())


def test_without_a_reading_nothing_is_left_behind(tmp_path: Path) -> None:
    run = visit(tmp_path)
    run.session.view()
    run.session.stop()
    assert list(tmp_path.iterdir()) == [] and run.listeners[0].asked == ["start", "stop"]


def test_nothing_is_kept_where_nothing_is_to_be(tmp_path: Path) -> None:
    run = visit(tmp_path, record=False)
    run.say(0, of_kg(30, 5))
    run.session.view()
    run.session.stop()
    assert list(tmp_path.iterdir()) == [] and run.session.place is None


def test_two_sessions_of_one_second_have_a_file_each(tmp_path: Path) -> None:
    for _ in range(2):
        run = visit(tmp_path)
        run.say(0, of_kg(30, 5))
        run.session.stop()
    assert len(list(tmp_path.iterdir())) == 2


def test_what_cannot_be_kept_is_told(tmp_path: Path) -> None:
    file = tmp_path / "file"
    file.write_text("in the way")
    run = visit(file)
    run.say(0, of_kg(30, 5))
    run.session.view()
    assert run.session.view().notes[0].startswith("the readings are not kept: ")
    run.session.stop()


def test_a_reading_with_both_feet_becomes_body_weight_and_is_no_load_of_one_foot(tmp_path: Path) -> None:
    run = visit(tmp_path)
    assert not run.session.take_weight()
    run.say(0, of_kg(70, 5))
    assert run.session.take_weight()
    view = run.session.view()
    assert view.sides[0].load == "" and view.body == "body weight 70.0 kg"
    run.say(0, of_kg(28, 20))
    view = run.session.view()
    assert view.share is not None and view.share.share == "40 %"
    run.session.stop()
    assert kept(tmp_path)[2] == {"at": "2026-11-24T14:30:00.000+01:00", "body_weight_kg": 70}


def test_body_weight_may_be_given(tmp_path: Path) -> None:
    run = visit(tmp_path, settings=Settings(RIGHT, body_weight_N=80 * STANDARD_GRAVITY))
    assert run.session.view().body == "body weight 80.0 kg"


def test_the_terminal_says_the_limits_first_and_each_reading_once(tmp_path: Path) -> None:
    run, told = visit(tmp_path, TWO), io.StringIO()
    teller = SettledTeller(run.session, told)
    run.say(0, of_kg(30, 5))
    run.say(1, heard(Weighing(8000, MassUnit.LB), 7))
    teller.show()
    teller.show()
    lines = told.getvalue().splitlines()
    assert lines[0] == LIMIT
    assert lines[1] == "14:30:05  left foot: 30.0 kg"
    right = "14:30:07  right foot: 36.3 kg, 80.0 lb on the scale, share 55 % injured, from two readings 2 s apart"
    assert lines[2] == right and len(lines) == len(set(lines))


def test_the_terminal_says_what_failed_and_what_was_kept(tmp_path: Path) -> None:
    run = visit(tmp_path)
    run.say(0, heard(Weighing(None), 5))
    run.say(0, of_kg(30, 6, clock(-86_400)))
    run.session.view()
    said = [say_taken(taken) for taken in run.session.readings]
    assert said[0] == "14:30:05  right foot: the scale could not weigh"
    assert said[1].endswith("kept in the scale since 2026-11-23 14:30, not a new reading")


def test_the_json_has_every_reading_and_says_what_it_cannot(tmp_path: Path) -> None:
    run = visit(tmp_path)
    run.say(0, of_kg(30, 5))
    run.session.view()
    found = to_json(run.session)
    assert found["schema"] == "weightshare.settled/1" and found["warnings"] == [LIMIT]
    assert [reading["load_kg"] for reading in found["readings"]] == [30]


def test_a_link_that_changes_is_told_once(tmp_path: Path) -> None:
    run, told = visit(tmp_path), io.StringIO()
    teller = SettledTeller(run.session, told)
    for words in ("asleep", "asleep", "connected"):
        run.listeners[0].status = SettledStatus(SettledPhase.LISTENING, words)
        teller.show()
    assert [line for line in told.getvalue().splitlines() if line.startswith("right scale")] == [
        "right scale: asleep",
        "right scale: connected",
    ]


def listener_saying(*readings: Heard, status: SettledStatus | None = None) -> Callable[..., ToldListener]:
    """Return what makes scales that say `readings` as soon as they are listened to."""

    def listen(source: str, deliver: Callable[[Heard], None]) -> ToldListener:
        told = ToldListener(source, deliver)
        told.status = status or told.status
        for reading in readings:
            deliver(reading)
        return told

    return listen


BRIEFLY = PractiseOptions(Settings(RIGHT), sources=ONE, seconds=0.2, record=False)


def test_the_command_ends_after_the_asked_seconds_with_all_readings(capsys: pytest.CaptureFixture[str]) -> None:
    assert practise_settled(BRIEFLY, open_listener=listener_saying(of_kg(30, 5), of_kg(31, 9))) == 0
    shown, said = capsys.readouterr()
    assert shown.splitlines() == ["14:30:05  right foot: 30.0 kg", "14:30:09  right foot: 31.0 kg"]
    assert said.startswith(LIMIT)


def test_the_command_fails_where_no_reading_came() -> None:
    with pytest.raises(DeviceError, match="no reading came; step on the scale"):
        practise_settled(BRIEFLY, open_listener=listener_saying())


def test_the_command_fails_at_once_where_the_scale_cannot_be_used() -> None:
    status = SettledStatus(SettledPhase.REFUSED, "Bluetooth is switched off")
    with pytest.raises(DeviceError, match=f"{ONE[0]}: Bluetooth is switched off"):
        practise_settled(replace(BRIEFLY, seconds=None), open_listener=listener_saying(status=status))
