"""The host's side of the wire protocol: what to say when, with time handed in and no bytes moved here."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum

from weightshare.model import Chunk, Identity
from weightshare.scales.frame import PROTOCOL, encode, to_stream
from weightshare.scales.message import Blink, Command, Kind, Reply, Result, Start, Stop, Who
from weightshare.scales.pinger import QUICK_PINGS_NS, Pinger
from weightshare.scales.receiver import Heard

MILLISECOND = 1_000_000
RESEND_NS = 500 * MILLISECOND
SILENT_AFTER_NS = 3000 * MILLISECOND
DOUBT_AFTER_NS = 1000 * MILLISECOND
LOST_AFTER_NS = 5000 * MILLISECOND
ASK_AGAIN_NS = 2000 * MILLISECOND
ASK_WAITING_NS = 200 * MILLISECOND
"""How often a refused scale is asked who it is: another may have been plugged in, or a calibration made."""
START_TRIES = 3
LONGEST_BLINK_MS = 65_535


class Stage(Enum):
    """How far the conversation has come."""

    ASKING = "asking who it is"
    WAITING = "waiting for the other scale"
    STARTING = "asking for samples"
    SAMPLING = "sampling"
    REFUSED = "refused"


Judge = Callable[[Identity], str | None]
"""Looks at an identity and returns why that scale cannot be used, in words, or None where it can; or WAIT."""
WAIT = "wait"
"""A judge's word for a scale that can be used as soon as the other one of the pair is known; it is asked again."""

_AGAIN_NS = {Stage.REFUSED: ASK_AGAIN_NS, Stage.WAITING: ASK_WAITING_NS}
_REFUSALS = {
    Result.UNKNOWN_COMMAND: "does not know how to start",
    Result.WRONG_LENGTH: "finds the start command too short or too long",
    Result.OUT_OF_RANGE: "has no sampling rate of its own",
}


class Conversation:
    """Speaks with one scale over one opened stream; a new stream needs a new conversation.

    `hear` takes what was decoded, `due` returns the bytes to send now. Instants are ns of one monotonic clock.
    """

    def __init__(self, now_ns: int, judge: Judge | None = None) -> None:
        self.stage = Stage.ASKING
        self.identity: Identity | None = None
        self.refusal = ""
        self.stopped = False
        """Whether the scale has answered to STOP."""
        self._judge = judge or (lambda identity: None)
        self._opened_ns = now_ns
        self._bytes = 0
        self._messages = 0
        self._samples_ns: int | None = None
        self._doubt_ns: int | None = None
        self._ask_ns: int | None = now_ns
        self._start_ns: int | None = None
        self._starts = 0
        self._busy = False
        self._first_start_ns: int | None = None
        self._pinger = Pinger()
        self._silent_from_ns = now_ns
        self._blink_ms: int | None = None
        self._token = 0
        self._start_token = -1
        self._stop_token = -1

    def note_bytes(self, count: int) -> None:
        """Count bytes that came, so that noise can be told from silence."""
        self._bytes += count

    def hear(self, message: Heard, now_ns: int) -> None:
        """Take what one message that arrived at `now_ns` said."""
        self._messages += 1
        self._pinger.hear(message, now_ns)
        if isinstance(message, Chunk):
            self._hear_samples(now_ns)
        elif isinstance(message, Identity):
            self._hear_identity(message, now_ns)
        elif isinstance(message, Reply):
            self._hear_reply(message, now_ns)

    def _hear_samples(self, now_ns: int) -> None:
        if self.stage is Stage.WAITING and self.identity is not None:
            # it samples already, and the other one may have come
            self._hear_identity(self.identity, now_ns)
        if self.stage in (Stage.STARTING, Stage.SAMPLING):
            # Where the REPLY was lost, samples say as much.
            self._sample(now_ns)
            self._samples_ns = now_ns

    def _hear_identity(self, identity: Identity, now_ns: int) -> None:
        before, self.identity = self.identity, identity
        self._ask_ns = None
        if identity.protocol != PROTOCOL:
            theirs = f"speaks protocol version {identity.protocol}, this program version {PROTOCOL}"
            self._refuse(f"the scale {theirs}; bring both to the same version", now_ns)
            return
        reason = self._judge(identity)
        if reason is WAIT:
            self._wait(now_ns)
            return
        if reason is not None:
            self._refuse(reason, now_ns)
            return
        if not (_is_same_run(before, identity) and self._is_under_way(now_ns)):
            self._start(now_ns)

    def _is_under_way(self, now_ns: int) -> bool:
        """Return whether START waits for its answer, or samples may be expected without another START."""
        if self.stage is Stage.STARTING:
            return self._start_ns is not None
        return self.stage is Stage.SAMPLING and self._doubt_ns is not None and now_ns < self._doubt_ns

    def _refuse(self, words: str, now_ns: int) -> None:
        self.stage = Stage.REFUSED
        self.refusal = words
        self._start_ns = self._samples_ns = None
        self._pinger.stop()
        self._ask_ns = now_ns + ASK_AGAIN_NS

    def _wait(self, now_ns: int) -> None:
        self.stage = Stage.WAITING
        self.refusal = ""
        self._start_ns = self._samples_ns = None
        self._pinger.stop()
        self._ask_ns = now_ns + ASK_WAITING_NS
        self._silent_from_ns = now_ns + SILENT_AFTER_NS

    def _start(self, now_ns: int) -> None:
        self.stage = Stage.STARTING
        self.refusal = ""
        self._start_ns = now_ns
        self._starts = 0
        self._start_token = self._next_token()
        if self._samples_ns is None:
            self._samples_ns = now_ns
        if self._first_start_ns is None:
            self._first_start_ns = now_ns

    def _sample(self, now_ns: int) -> None:
        self.stage = Stage.SAMPLING
        self._busy = False
        self._start_ns = self._ask_ns = None
        self._doubt_ns = now_ns + DOUBT_AFTER_NS
        self._pinger.begin(now_ns, (self._first_start_ns or 0) + QUICK_PINGS_NS)

    def _hear_reply(self, reply: Reply, now_ns: int) -> None:
        if reply.command == Kind.STOP and reply.token == self._stop_token:
            self.stopped = True
        awaited = self.stage is Stage.STARTING and reply.command == Kind.START and reply.token == self._start_token
        if not awaited:
            return
        if reply.result == Result.DONE:
            self._sample(now_ns)
        elif reply.result == Result.BUSY:
            self._busy = True
            self._starts = 0
            self._start_ns = now_ns + RESEND_NS
        else:
            self._refuse(f"the scale {_REFUSALS[reply.result]}; bring its firmware up to date", now_ns)

    def blink(self, duration_ms: int) -> None:
        """Have the scale show its light for up to 65,535 ms, with what is due next."""
        self._blink_ms = min(max(duration_ms, 0), LONGEST_BLINK_MS)

    def due(self, now_ns: int) -> bytes:
        """Return the bytes to send now, b"" where there is nothing to say; what is returned counts as sent."""
        return b"".join(to_stream(encode(command)) for command in self._due_commands(now_ns))

    def _due_commands(self, now_ns: int) -> list[Command]:
        self._doubt(now_ns)
        commands: list[Command] = []
        if self._ask_ns is not None and now_ns >= self._ask_ns:
            self._ask_ns = now_ns + _AGAIN_NS.get(self.stage, RESEND_NS)
            commands.append(Who(self._next_token()))
        if self._start_ns is not None and now_ns >= self._start_ns:
            self._start_ns = now_ns + RESEND_NS
            self._starts += 1
            commands.append(Start(self._start_token))
        ping = self._pinger.due(now_ns)
        if ping is not None:
            commands.append(ping)
        if self._blink_ms is not None:
            commands.append(Blink(self._next_token(), self._blink_ms))
            self._blink_ms = None
        return commands

    def _doubt(self, now_ns: int) -> None:
        """Ask who is there where samples, or the answer to START, stay away; or a scale that was there does."""
        if self.stage is Stage.WAITING and now_ns >= self._silent_from_ns:
            self.stage, self._opened_ns = Stage.ASKING, now_ns - SILENT_AFTER_NS
            self._messages = self._bytes = 0
        if self._ask_ns is not None:
            return
        if self.stage is Stage.STARTING and self._starts >= START_TRIES and now_ns >= (self._start_ns or 0):
            self._start_ns = None
            self._ask_ns = now_ns
        elif self.stage is Stage.SAMPLING and self._doubt_ns is not None and now_ns >= self._doubt_ns:
            self._ask_ns = now_ns

    def next_ns(self) -> int | None:
        """Return the instant at which `due` has to be asked next, or None where only hearing can bring something."""
        doubt_ns = self._doubt_ns if self.stage is Stage.SAMPLING and self._ask_ns is None else None
        instants = (self._ask_ns, self._start_ns, self._pinger.next_ns, doubt_ns)
        return min((instant for instant in instants if instant is not None), default=None)

    def is_lost(self, now_ns: int) -> bool:
        """Return whether samples stayed away for so long that the stream has to be opened anew."""
        return self._silent_ns(now_ns) >= LOST_AFTER_NS

    def is_interrupted(self, now_ns: int) -> bool:
        """Return whether samples were coming and stay away now."""
        return self.stage is Stage.SAMPLING and self._silent_ns(now_ns) >= DOUBT_AFTER_NS

    def _silent_ns(self, now_ns: int) -> int:
        awaited = self.stage in (Stage.STARTING, Stage.SAMPLING) and self._samples_ns is not None
        return now_ns - (self._samples_ns or 0) if awaited else 0

    def complaint(self, now_ns: int) -> str:
        """Return what is wrong (refused, busy, silent, noise), in words; empty where nothing is."""
        if self.stage is Stage.REFUSED:
            return self.refusal
        if self._busy:
            return "the scale is busy with someone else; close the other program that uses it"
        if self.stage is not Stage.ASKING or now_ns - self._opened_ns < SILENT_AFTER_NS:
            return ""
        if self._messages:
            return "a scale is heard, but does not say which it is; switch it off and on again"
        if self._bytes:
            return "only noise comes; check the speed (@BAUD), the cable, and that it is a scale at all"
        return "silent: nothing answers; check that the scale is on and that this is its port"

    def close(self) -> bytes:
        """Return the bytes that end the conversation: STOP where samples may be coming, else nothing."""
        if self.stage in (Stage.STARTING, Stage.SAMPLING):
            self._stop_token = self._next_token()
            return to_stream(encode(Stop(self._stop_token)))
        return b""

    def _next_token(self) -> int:
        self._token = (self._token + 1) & 0xFF
        return self._token


def _is_same_run(before: Identity | None, now: Identity) -> bool:
    """Return whether two identities are the same scale that did not restart in between."""
    return before is not None and (before.device_id, before.boot_count) == (now.device_id, now.boot_count)


class Playback(Conversation):
    """Listens to a record being played back: it has nobody to speak to, and silence is part of the record."""

    def due(self, now_ns: int) -> bytes:
        """Return b"": a record hears nothing."""
        return b""

    def next_ns(self) -> int | None:
        """Return None: only the record can bring something."""
        return None

    def is_lost(self, now_ns: int) -> bool:
        """Return False: the record itself says where its link was lost."""
        return False

    def complaint(self, now_ns: int) -> str:
        """Return why the recorded scale is refused; empty where it is not: silence is part of the record."""
        return self.refusal if self.stage is Stage.REFUSED else ""

    def close(self) -> bytes:
        """Return b"": a record hears nothing."""
        return b""
