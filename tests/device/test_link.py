"""A link over real sockets and pseudo-terminals, to a scale that shares no code with the program."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import pytest

from weightshare.model import Chunk, Condition, Identity, Item, LinkDown, LinkUp
from weightshare.scales.link import Link, Phase, Status
from weightshare.scales.source import open_source, parse_source

BOUND_S = 15.0


class Notes:
    """Both ends of a link: what was written down of it, and what it delivered."""

    def __init__(self) -> None:
        self.taped: list[tuple[str, object]] = []
        self.items: list[Item] = []
        self.news = threading.Condition()

    def up(self, arrival_ns: int) -> None:
        self._tape("up", arrival_ns)

    def down(self, arrival_ns: int, reason: str) -> None:
        self._tape("down", reason)

    def received(self, arrival_ns: int, data: bytes) -> None:
        self._tape("received", data)

    def sent(self, arrival_ns: int, data: bytes) -> None:
        self._tape("sent", data)

    def _tape(self, kind: str, what: object) -> None:
        with self.news:
            self.taped.append((kind, what))
            self.news.notify_all()

    def deliver(self, items: Sequence[Item]) -> None:
        with self.news:
            self.items.extend(items)
            self.news.notify_all()

    def all(self, kind: str) -> list[Any]:
        return [what for tag, what in self.taped if tag == kind]

    def count(self, kind: type) -> int:
        return sum(isinstance(item, kind) for item in self.items)

    def wait(self, done: Callable[[], bool]) -> None:
        with self.news:
            assert self.news.wait_for(done, BOUND_S), f"it did not happen in {BOUND_S} s: {self.taped[-5:]}"


class Watched(Link):
    """A link whose every status is kept."""

    seen: list[Status]

    def __setattr__(self, name: str, value: object) -> None:
        if name == "status":
            self.__dict__.setdefault("seen", []).append(value)
        super().__setattr__(name, value)


@pytest.fixture
def notes() -> Notes:
    return Notes()


@pytest.fixture
def connect(notes: Notes) -> Iterator[Callable[..., Watched]]:
    links: list[Watched] = []

    def make(source: str, judge: Callable[[Identity], str | None] | None = None, pace: int = 1) -> Watched:
        transport = open_source(parse_source(source))
        links.append(Watched(transport, notes, notes.deliver, judge, clock_ns=lambda: pace * time.monotonic_ns()))
        links[-1].start()
        return links[-1]

    yield make
    for link in links:
        link.ask_to_stop()
        assert link.join(5)


def wait_for(link: Watched, done: Callable[[Status], bool]) -> Status:
    """Come back with the first status that satisfies `done`."""
    pause = threading.Event()
    for _ in range(int(BOUND_S / 0.005)):
        for status in list(link.seen):
            if done(status):
                return status
        pause.wait(0.005)
    raise AssertionError(f"no such status in {BOUND_S} s: {link.seen}")


def stand(sample: int) -> tuple[int, int]:
    return 20_000 + sample, 60_000


@pytest.mark.parametrize("kind", ["tiny_scale", "tiny_pty"])
def test_a_scale_is_asked_started_and_stopped(
    kind: str, request: pytest.FixtureRequest, notes: Notes, connect: Callable[..., Watched]
) -> None:
    host = request.getfixturevalue(kind)(stand, speed=10)
    host.scale.battery_mV = 3300
    link = connect(host.source)
    notes.wait(lambda: notes.count(Chunk) >= 20)
    assert wait_for(link, lambda status: status.phase is Phase.SAMPLING and status.battery_mV == 3300)
    link.ask_to_stop()
    assert link.join(5)
    assert [body[0] for body in host.scale.heard if body[0] != 0x85] == [0x81, 0x82, 0x83]
    assert host.scale.heard.count(host.scale.heard[-1]) == 1
    assert isinstance(notes.items[0], LinkUp)
    assert isinstance(notes.items[1], Identity)
    assert notes.items[1].name == "tiny"
    assert isinstance(notes.items[-1], LinkDown)
    assert notes.count(Condition) == 1
    chunks = [item for item in notes.items if isinstance(item, Chunk)]
    left = [count for chunk in chunks for count in chunk.readings[:, :, 0].ravel().tolist()]
    assert left == list(range(20_000, 20_000 + len(left)))
    assert link.status == Status(Phase.ENDED, "closed", "", notes.items[1], 3300)


def test_everything_is_written_down_both_ways(
    tiny_scale: Callable[..., Any], notes: Notes, connect: Callable[..., Watched]
) -> None:
    host = tiny_scale(stand)
    link = connect(host.source)
    notes.wait(lambda: notes.count(Chunk) >= 3)
    link.ask_to_stop()
    assert link.join(5)
    assert notes.taped[0][0] == "up"
    assert notes.taped[-1] == ("down", "closed")
    sent = b"".join(notes.all("sent"))
    assert sent.count(b"\0") == len(host.scale.heard)
    assert b"tiny" in b"".join(notes.all("received"))


def test_a_link_that_dies_comes_back_by_itself(
    tiny_scale: Callable[..., Any], notes: Notes, connect: Callable[..., Watched]
) -> None:
    host = tiny_scale(stand)
    link = connect(host.source)
    notes.wait(lambda: notes.count(Chunk) >= 2)
    host.close()
    lost = wait_for(link, lambda status: status.phase is Phase.LOST)
    assert lost.fault
    assert "trying" in lost.words
    again = wait_for(link, lambda status: "nothing listens there" in status.words)
    assert again.phase is Phase.LOST
    host.open()
    before = notes.count(Chunk)
    notes.wait(lambda: notes.count(Chunk) >= before + 2)
    assert wait_for(link, lambda status: status.words == "the link is back").phase is Phase.SAMPLING
    ups = [isinstance(item, LinkUp) for item in notes.items if isinstance(item, LinkUp | LinkDown)]
    assert ups == [True, False, True]
    assert notes.count(Identity) == 2


def test_a_port_that_is_absent_is_tried_until_it_comes(
    tiny_scale: Callable[..., Any], notes: Notes, connect: Callable[..., Watched]
) -> None:
    host = tiny_scale(stand)
    host.close()
    link = connect(host.source)
    absent = wait_for(link, lambda status: "nothing listens there" in status.fault)
    assert absent.phase is Phase.CONNECTING
    host.open()
    notes.wait(lambda: notes.count(Chunk) >= 1)
    assert not any(status.words == "the link is back" for status in link.seen)


def test_an_unplugged_cable_is_told(
    tiny_pty: Callable[..., Any], notes: Notes, connect: Callable[..., Watched]
) -> None:
    host = tiny_pty(stand)
    link = connect(host.source)
    notes.wait(lambda: notes.count(Chunk) >= 2)
    host.close()
    assert "unplugged" in wait_for(link, lambda status: status.phase is Phase.LOST).fault


def test_a_refused_scale_is_not_started(
    tiny_scale: Callable[..., Any], notes: Notes, connect: Callable[..., Watched]
) -> None:
    host = tiny_scale(stand)
    link = connect(host.source, lambda identity: f"no calibration for {identity.device_id}", pace=4)
    refused = wait_for(link, lambda status: status.phase is Phase.REFUSED)
    assert refused.fault == "no calibration for 0011223344556677"
    host.scale.wait_for(0x81, 2)
    assert {body[0] for body in host.scale.heard} == {0x81}


def test_another_protocol_version_is_refused(
    tiny_scale: Callable[..., Any], notes: Notes, connect: Callable[..., Watched]
) -> None:
    host = tiny_scale(stand)
    host.scale.protocol = 2
    link = connect(host.source)
    refused = wait_for(link, lambda status: status.phase is Phase.REFUSED)
    assert "protocol version 2" in refused.words


@pytest.mark.parametrize(("noise", "words"), [(b"", "silent"), (b"\x55\xaa noise \x00", "only noise comes")])
def test_silence_and_noise_are_told_apart(
    tiny_scale: Callable[..., Any], connect: Callable[..., Watched], noise: bytes, words: str
) -> None:
    host = tiny_scale(stand)
    host.scale.mute = True
    host.scale.noise = noise
    link = connect(host.source, pace=5)
    told = wait_for(link, lambda status: status.words.startswith(words))
    assert told.phase is Phase.CONNECTING
    assert told.fault == told.words


def test_a_busy_scale_is_called_busy_for_as_long_as_it_is(
    tiny_scale: Callable[..., Any], connect: Callable[..., Watched]
) -> None:
    """After 5 s it was told that no samples came, and no longer why."""
    host = tiny_scale(stand)
    host.scale.start_result = 4
    link = connect(host.source, pace=5)
    told = wait_for(link, lambda status: status.phase is Phase.LOST)
    assert told.fault == "the scale is busy with someone else; close the other program that uses it"


def test_a_scale_that_goes_quiet_is_lost_and_found(
    tiny_scale: Callable[..., Any], notes: Notes, connect: Callable[..., Watched]
) -> None:
    host = tiny_scale(stand)
    link = connect(host.source, pace=5)
    notes.wait(lambda: notes.count(Chunk) >= 2)
    host.scale.mute = True
    assert wait_for(link, lambda status: status.phase is Phase.LOST).words == "no data comes; asking the scale"
    assert wait_for(link, lambda status: status.fault.startswith("no samples for 5 s; check"))
    host.scale.mute = False
    before = notes.count(Chunk)
    notes.wait(lambda: notes.count(Chunk) > before)


def test_a_restarted_scale_is_started_again(
    tiny_scale: Callable[..., Any], notes: Notes, connect: Callable[..., Watched]
) -> None:
    host = tiny_scale(stand)
    connect(host.source)
    notes.wait(lambda: notes.count(Chunk) >= 2)
    host.scale.restart()
    host.scale.wait_for(0x82, 2)
    notes.wait(lambda: isinstance(notes.items[-1], Chunk) and notes.count(Identity) == 2)
    assert [item.boot_count for item in notes.items if isinstance(item, Identity)] == [5, 6]


def test_a_link_that_was_never_started_ends_at_once(tiny_scale: Callable[..., Any], notes: Notes) -> None:
    link = Link(open_source(parse_source("tcp://127.0.0.1:9")), notes, notes.deliver)
    link.ask_to_stop()
    assert link.join(1)
