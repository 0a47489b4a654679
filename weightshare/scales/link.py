"""One scale's link: a thread that alone opens, reads, writes and closes its stream, and opens a lost one again."""

from __future__ import annotations

import contextlib
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Protocol

from weightshare.errors import DeviceError
from weightshare.model import Condition, Identity, Item
from weightshare.scales.conversation import LOST_AFTER_NS, Conversation, Judge, Playback, Stage
from weightshare.scales.receiver import Heard, Receiver, is_item
from weightshare.scales.transport import Transport

READ_TIMEOUT_S = 0.05
"""The longest that a stop, or a command that is due, waits for the thread."""
FIRST_RETRY_S = 0.2
LAST_RETRY_S = 2.0
RETRY_GROWTH = 1.6
FAREWELL_S = 0.3
"""How long the answer to STOP is waited for: closing with bytes unread could take the STOP itself away."""
BACK_AGAIN_S = 3.0
NO_SAMPLES = f"no samples for {LOST_AFTER_NS / 1e9:g} s; check the cable, and that the scale is on"


class RecordEndedError(DeviceError):
    """A record that was played back came to its end."""


class Phase(Enum):
    """Where a link stands."""

    CONNECTING = "connecting"
    SAMPLING = "sampling"
    LOST = "lost"
    REFUSED = "refused"
    ENDED = "ended"


@dataclass(frozen=True, slots=True)
class Status:
    """A link's state in words. `fault` is what keeps it from sampling, where something does."""

    phase: Phase = Phase.CONNECTING
    words: str = "connecting"
    fault: str = ""
    identity: Identity | None = None
    battery_mV: int = 0
    faults: int = 0
    """What the scale said last is wrong with it, bit by bit, as Condition has them."""
    remark: str = ""
    """What a person should know of the source, to confirm; empty where there is nothing."""


class Tap(Protocol):
    """Where everything that goes over a link is written down before anything is made of it."""

    def up(self, arrival_ns: int) -> None:
        """The stream was opened."""

    def down(self, arrival_ns: int, reason: str) -> None:
        """The stream was lost or closed."""

    def received(self, arrival_ns: int, data: bytes) -> None:
        """Bytes came from the scale."""

    def sent(self, arrival_ns: int, data: bytes) -> None:
        """Bytes went to the scale."""


class Link:
    """Runs one transport from `start` to `stop`; `status` may be read from any thread.

    `tap` is told first of everything, then `deliver` gets the items for the pipeline; both are called from the
    link's thread and must not block. `judge` says why a scale cannot be used (None: it can). `playback` is for a
    record, which is only listened to. `clock_ns` gives the instants of arrival. `order`: one lock for all links of a
    session, so that what they bring is recorded and delivered in the order of its instants.
    """

    def __init__(
        self,
        transport: Transport,
        tap: Tap,
        deliver: Callable[[Sequence[Item]], None],
        judge: Judge | None = None,
        *,
        playback: bool = False,
        clock_ns: Callable[[], int] = time.monotonic_ns,
        order: contextlib.AbstractContextManager[object] | None = None,
    ) -> None:
        self.name = transport.name
        self.status = Status(words=f"connecting to {transport.name}")
        self.is_open = False
        """Whether the stream is open now."""
        self._transport = transport
        self._tap = tap
        self._deliver = deliver
        self._judge = judge
        self._now_ns = clock_ns
        self._order = order or contextlib.nullcontext()
        self._blink_ms: int | None = None
        self._kind = Playback if playback else Conversation
        self._receiver = Receiver()
        self._stopping = threading.Event()
        self._retry_s = FIRST_RETRY_S
        self._was_sampling = False
        self._back_ns: int | None = None
        self._thread = threading.Thread(target=self._run, name=f"link {self.name}", daemon=True)

    def start(self) -> None:
        """Begin to connect."""
        self._thread.start()

    def ask_to_stop(self) -> None:
        """Tell the thread to end; it says STOP to the scale first."""
        self._stopping.set()
        self._transport.interrupt()

    def join(self, timeout_s: float) -> bool:
        """Wait for the thread; return whether it ended in time."""
        if self._thread.ident is not None:
            self._thread.join(timeout_s)
        return not self._thread.is_alive()

    def blink(self, duration_ms: int) -> None:
        """Have the scale show its light, so that a person can tell which it is; may be called from any thread."""
        self._blink_ms = duration_ms

    @property
    def has_ended(self) -> bool:
        """Whether nothing more will come: the link was closed, or the record is at its end."""
        return self.status.phase is Phase.ENDED

    def _run(self) -> None:
        try:
            while not (self._stopping.is_set() or self.has_ended):
                if self._open():
                    self._run_stream()
                if not self.has_ended:
                    self._stopping.wait(self._retry_s)
                    self._retry_s = min(self._retry_s * RETRY_GROWTH, LAST_RETRY_S)
        finally:
            self._transport.close()
            if not self.has_ended:
                self._tell(Phase.ENDED, "closed")

    def _open(self) -> bool:
        try:
            self._transport.open()
        except RecordEndedError as end:
            self._tell(Phase.ENDED, self._words(end))
            return False
        except DeviceError as error:
            phase = Phase.LOST if self._was_sampling else Phase.CONNECTING
            self._tell(phase, f"{self._words(error)}; trying again", fault=self._words(error))
            return False
        return True

    def _run_stream(self) -> None:
        with self._order:
            now_ns = self._now_ns()
            self._tap.up(now_ns)
            self._hand_on(self._receiver.up(now_ns))
        reason = "closed"
        talk = self._kind(now_ns, self._judge)
        try:
            self.is_open = True
            self._converse(talk)
        except RecordEndedError as end:
            reason = self._words(end)
            self._tell(Phase.ENDED, reason)
        except DeviceError as error:
            reason = self._words(error)
            self._tell(Phase.LOST, f"{reason}; trying to connect again", fault=reason)
        finally:
            self.is_open = False
            self._transport.close()
            with self._order:
                now_ns = self._now_ns()
                self._tap.down(now_ns, reason)
                self._hand_on(self._receiver.down(now_ns, reason))

    def _converse(self, talk: Conversation) -> None:
        while not self._stopping.is_set():
            blink_ms, self._blink_ms = self._blink_ms, None
            if blink_ms is not None:
                talk.blink(blink_ms)
            self._say(talk.due(self._now_ns()))
            self._listen(talk, self._patience_s(talk))
            now_ns = self._now_ns()
            if talk.is_lost(now_ns):
                raise DeviceError(f"{self.name}: {talk.complaint(now_ns) or NO_SAMPLES}")
            self._note(talk, now_ns)
        farewell = talk.close()
        if farewell:
            self._say(farewell)
            end_ns = self._now_ns() + int(FAREWELL_S * 1e9)
            while not talk.stopped and self._now_ns() < end_ns:
                self._listen(talk, READ_TIMEOUT_S)

    def _patience_s(self, talk: Conversation) -> float:
        """Return how long to wait for bytes: what is due goes out at its instant, not when something happens to come.

        A PING sent just after a radio brought something would always wait as long as one can for its way back.
        """
        due_ns = talk.next_ns()
        return READ_TIMEOUT_S if due_ns is None else min(max(due_ns - self._now_ns(), 0) / 1e9, READ_TIMEOUT_S)

    def _say(self, data: bytes) -> None:
        if not data:
            return
        self.note_sent(data)
        self._transport.write(data)

    def note_sent(self, data: bytes) -> None:
        """A record says that the host sent `data`; called from the link's thread, between two readings."""
        with self._order:
            now_ns = self._now_ns()
            self._tap.sent(now_ns, data)
            self._receiver.sent(data, now_ns)

    def _listen(self, talk: Conversation, timeout_s: float) -> None:
        data = self._transport.read(timeout_s)
        if not data:
            return
        with self._order:
            now_ns = self._now_ns()
            self._tap.received(now_ns, data)
            heard = self._receiver.feed(data, now_ns)
            talk.note_bytes(len(data))
            for message in heard:
                talk.hear(message, now_ns)
            self._note_condition(heard)
            self._hand_on(heard)

    def _hand_on(self, heard: Sequence[Heard]) -> None:
        items = [item for item in heard if is_item(item)]
        if items:
            self._deliver(items)

    def _note_condition(self, items: Sequence[Heard]) -> None:
        for item in items:
            if isinstance(item, Condition):
                self.status = replace(self.status, battery_mV=item.battery_mV, faults=item.faults)

    def _note(self, talk: Conversation, now_ns: int) -> None:
        """Keep `status` up with the conversation."""
        complaint = talk.complaint(now_ns)
        if talk.stage is Stage.REFUSED:
            self._tell(Phase.REFUSED, complaint, complaint, talk.identity)
        elif complaint:
            self._tell(Phase.CONNECTING, complaint, complaint, talk.identity)
        elif talk.stage is not Stage.SAMPLING:
            self._tell(Phase.CONNECTING, talk.stage.value, "", talk.identity)
        elif talk.is_interrupted(now_ns):
            self._tell(Phase.LOST, "no data comes; asking the scale", "no data comes", talk.identity)
        else:
            self._note_sampling(talk, now_ns)

    def _note_sampling(self, talk: Conversation, now_ns: int) -> None:
        self._retry_s = FIRST_RETRY_S
        if self.status.phase is not Phase.SAMPLING:
            self._back_ns = now_ns if self._was_sampling else None
            self._was_sampling = True
        back = self._back_ns is not None and now_ns - self._back_ns < BACK_AGAIN_S * 1e9
        self._tell(Phase.SAMPLING, "the link is back" if back else "connected", "", talk.identity)

    def _tell(self, phase: Phase, words: str, fault: str = "", identity: Identity | None = None) -> None:
        known = identity or self.status.identity
        remark = self._transport.remark
        status = replace(self.status, phase=phase, words=words, fault=fault, identity=known, remark=remark)
        if status != self.status:
            self.status = status

    def _words(self, error: DeviceError) -> str:
        return str(error).removeprefix(f"{self.name}: ")
