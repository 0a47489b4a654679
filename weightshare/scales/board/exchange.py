"""The exchange that tells whether a scale speaks the protocol: every command once, and some seconds of samples."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from weightshare.model import Chunk, Condition, Identity
from weightshare.scales.board.finding import Finding, judge_samples, tell_identity
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.frame import (
    Blink,
    Command,
    Echo,
    Message,
    Ping,
    Reply,
    Result,
    Start,
    Stop,
    Who,
    close_body,
    encode,
    to_stream,
)
from weightshare.scales.transport import Transport

ANSWER_S = 2.0
QUIET_S = 1.3
LIGHT_MS = 1000
NONCE = 0x5EED_CAFE
UNKNOWN = b"\x90\x07"
"""A command that no version 1 has."""

AnyMessage = TypeVar("AnyMessage", bound=Message)


@dataclass
class Talk:
    """A conversation in single questions, over an opened transport."""

    transport: Transport
    now_ns: Callable[[], int] = time.monotonic_ns
    decoder: StreamDecoder = field(default_factory=StreamDecoder)
    heard: list[Message] = field(default_factory=list)
    received: int = 0
    """Bytes that came."""

    def say(self, command: Command) -> None:
        """Send one command."""
        self.transport.write(to_stream(encode(command)))

    def listen(self, seconds: float, done: Callable[[], bool] = lambda: False) -> None:
        """Take in what comes for so long, or until `done`."""
        until_ns = self.now_ns() + round(seconds * 1e9)
        while not done() and self.now_ns() < until_ns:
            data = self.transport.read(0.02)
            self.received += len(data)
            self.heard += self.decoder.feed(data, self.now_ns())

    def of(self, kind: type[AnyMessage]) -> list[AnyMessage]:
        """Return what was heard of one kind."""
        return [message for message in self.heard if isinstance(message, kind)]

    def ask(self, data: bytes, kind: type[AnyMessage], fits: Callable[[AnyMessage], bool]) -> AnyMessage | None:
        """Send `data`; return the first message of that kind that fits, or None where none came in time."""
        before = len(self.heard)
        self.transport.write(data)

        def answers() -> list[AnyMessage]:
            return [message for message in self.heard[before:] if isinstance(message, kind) and fits(message)]

        self.listen(ANSWER_S, lambda: bool(answers()))
        return next(iter(answers()), None)


def ask_who(talk: Talk, within_s: float = ANSWER_S) -> Identity | None:
    """Return who answers to WHO, asked again and again; None where nobody does in time."""
    until_ns = talk.now_ns() + round(within_s * 1e9)
    while talk.now_ns() < until_ns:
        talk.say(Who(1))
        talk.listen(0.5, lambda: bool(talk.of(Identity)))
        if talk.of(Identity):
            return talk.of(Identity)[-1]
    return None


def exchange(talk: Talk, seconds: float) -> list[Finding]:
    """Hold the whole exchange with a scale that is not sampling; the findings, in the order in which they came."""
    identity = ask_who(talk)
    if identity is None:
        return [Finding("identity", False, _silence(talk))]
    findings = [Finding("identity", True, tell_identity(identity))]
    findings += [_ping(talk), _unknown(talk), _command(talk, "light", Blink(4, LIGHT_MS))]
    begun = _command(talk, "start", Start(2))
    findings.append(begun)
    if begun.ok:
        _sample(talk, seconds)
        findings += judge_samples(talk.heard, identity, talk.decoder.counts, seconds)
    findings.append(_command(talk, "stop", Stop(3)))
    return [*findings, _quiet(talk), _form(talk)]


def _silence(talk: Talk) -> str:
    if talk.received:
        return "bytes come, but no scale says who it is; check the speed (@BAUD), and that it is a scale"
    return "nothing answers; check that the scale is on, and that this is its port"


def _ping(talk: Talk) -> Finding:
    sent_ns = talk.now_ns()
    echo = talk.ask(to_stream(encode(Ping(NONCE))), Echo, lambda echo: echo.nonce == NONCE)
    if echo is None:
        return Finding("ping", False, "no ECHO of its nonce came")
    return Finding("ping", True, f"echoed in {(echo.arrival_ns - sent_ns) / 1e6:.1f} ms")


def _unknown(talk: Talk) -> Finding:
    kind, token = UNKNOWN
    reply = talk.ask(to_stream(close_body(UNKNOWN)), Reply, lambda reply: (reply.command, reply.token) == (kind, token))
    refused = reply is not None and reply.result is Result.UNKNOWN_COMMAND
    return Finding("unknown command", refused, "refused as unknown" if refused else "was not refused as unknown")


def _command(talk: Talk, name: str, command: Start | Stop | Blink) -> Finding:
    reply = talk.ask(to_stream(encode(command)), Reply, lambda reply: reply.token == command.token)
    if reply is None:
        return Finding(name, False, "no REPLY with its token came")
    words = reply.result.name.lower().replace("_", " ")
    return Finding(name, reply.result is Result.DONE, words)


def _sample(talk: Talk, seconds: float) -> None:
    """Listen to samples, with a PING each second as a host sends them."""
    talk.heard = [message for message in talk.heard if not isinstance(message, (Chunk, Condition))]
    for nonce in range(int(seconds)):
        talk.listen(1.0)
        talk.say(Ping(nonce))
    talk.listen(seconds - int(seconds))


def _quiet(talk: Talk) -> Finding:
    talk.listen(0.2)
    before = talk.received
    talk.listen(QUIET_S)
    return Finding("quiet", talk.received == before, f"{talk.received - before} bytes came unasked after STOP")


def _form(talk: Talk) -> Finding:
    counts = talk.decoder.counts
    wrong = counts.dropped - counts.before_identity
    return Finding("frames", not wrong, f"{counts.frames} well-formed, {wrong} not")
