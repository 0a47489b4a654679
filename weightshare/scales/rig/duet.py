"""Two virtual scales and their host in one thread and in virtual time: a whole visit's raw entries, in no time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from weightshare.model import Side, Sourced
from weightshare.scales.capture import EntryKind, RawEntry
from weightshare.scales.conversation import Conversation
from weightshare.scales.link import READ_TIMEOUT_S
from weightshare.scales.receiver import Heard, Receiver, is_item
from weightshare.scales.rig.carrier import find_carrier
from weightshare.scales.rig.link import Station
from weightshare.scales.rig.pair import make_stations
from weightshare.scales.rig.scene import Scene
from weightshare.scales.rig.wish import is_separate, make_cast
from weightshare.task import Goal, Settings

UP_AFTER_NS = (0, 137_000_000)
"""When each link is opened: two are never opened at once."""
RETRY_NS = 500_000_000
TURN_NS = round(READ_TIMEOUT_S * 1e9)


@dataclass(frozen=True, slots=True)
class Duet:
    """What went over both links in one visit, and who was there.

    entries: of source 0 and 1, interleaved as they came. items: what a pipeline is fed with, in the same order.
    """

    scene: Scene
    entries: list[RawEntry]
    items: list[Sourced]


def play_duet(spec: str, seconds: float, settings: Settings | None = None, goal: Goal | None = None) -> Duet:
    """Return `seconds` of a visit on the virtual scales that `spec` asks for: what follows `rig:` in a source.

    Without separate=yes there is source 0 alone. True time is the host's, from 0 ns. Raises OptionError for a wish
    that there is not.
    """
    cast, wishes = make_cast(spec, settings or Settings(Side.LEFT), goal or Goal(), 0.0)
    scene = Scene(cast)
    carrier, separate = find_carrier(wishes["link"]), is_separate(wishes)
    stations = make_stations(scene, carrier, float(wishes["rate"]), 0, separate=separate)
    duet = Duet(scene, [], [])
    hosts = [_Host(number, station, duet) for number, station in enumerate(stations)]
    _play(hosts, round(seconds * 1e9))
    return duet


def _play(hosts: Sequence[_Host], until_ns: int) -> None:
    now_ns = 0
    while now_ns < until_ns:
        for host in hosts:
            host.pump(now_ns)
        now_ns = min(host.next_ns(now_ns) for host in hosts)
    for host in hosts:
        host.end(until_ns)


class _Host:
    """The program's side of one link, as its own thread plays it: it speaks when something came, or has not for long.

    So what the other link brings does not change when a PING goes out.
    """

    def __init__(self, source: int, station: Station, duet: Duet) -> None:
        self._source, self._station, self._duet = source, station, duet
        self._receiver = Receiver()
        self._talk: Conversation | None = None
        self._open_ns = self._turn_ns = UP_AFTER_NS[source]

    def pump(self, now_ns: int) -> None:
        """Take what came until `now_ns`, and say what is due."""
        data = self._station.read(now_ns)
        if not self._station.is_up(now_ns):
            self._lose(now_ns)
            return
        if self._talk is None and now_ns >= self._open_ns:
            self._talk = Conversation(now_ns)
            self._turn_ns = now_ns
            self._note(EntryKind.UP, now_ns)
            self._give(self._receiver.up(now_ns))
        if self._talk is not None:
            self._converse(self._talk, data, now_ns)

    def next_ns(self, now_ns: int) -> int:
        """Return when to pump again."""
        own_ns = self._open_ns if self._talk is None else self._turn_ns
        return max(min(self._station.next_ns(now_ns), own_ns), now_ns + 1)

    def end(self, now_ns: int) -> None:
        """Close the link, and tell the scale to stop."""
        if self._talk is None:
            return
        self._say(self._talk.close(), now_ns)
        self._station.read(now_ns + RETRY_NS)
        self._note(EntryKind.DOWN, now_ns)
        self._give(self._receiver.down(now_ns))

    def _lose(self, now_ns: int) -> None:
        if self._talk is not None:
            self._talk = None
            self._note(EntryKind.DOWN, now_ns)
            self._give(self._receiver.down(now_ns))
        self._open_ns = now_ns + RETRY_NS

    def _converse(self, talk: Conversation, data: bytes, now_ns: int) -> None:
        if data:
            self._note(EntryKind.RX, now_ns, data)
            heard = self._receiver.feed(data, now_ns)
            talk.note_bytes(len(data))
            for message in heard:
                talk.hear(message, now_ns)
            self._give(heard)
        if data or now_ns >= self._turn_ns:
            self._say(talk.due(now_ns), now_ns)
            due_ns = talk.next_ns()
            self._turn_ns = now_ns + TURN_NS if due_ns is None else min(now_ns + TURN_NS, max(due_ns, now_ns))

    def _say(self, data: bytes, now_ns: int) -> None:
        if data:
            self._note(EntryKind.TX, now_ns, data)
            self._receiver.sent(data, now_ns)
            self._station.write(data, now_ns)

    def _note(self, kind: EntryKind, now_ns: int, payload: bytes = b"") -> None:
        self._duet.entries.append(RawEntry(kind, self._source, now_ns, payload))

    def _give(self, heard: Sequence[Heard]) -> None:
        self._duet.items.extend(Sourced(self._source, item) for item in heard if is_item(item))
