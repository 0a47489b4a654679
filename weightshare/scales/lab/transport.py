"""A laboratory's force stream as a byte stream that speaks the wire protocol, so that all else stays as it is."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from weightshare.errors import DeviceError
from weightshare.model import NO_READING, Floats, Identity
from weightshare.scales.frame import encode, encode_samples, to_stream
from weightshare.scales.lab.calibration import NEWTON_PER_COUNT
from weightshare.scales.lab.channel import Foot, choose_feet, say_feet
from weightshare.scales.lab.library import load_library
from weightshare.scales.lab.stream import ANSWER_S, describe, find_stream, make_identity, require_steady
from weightshare.scales.lab.tick import TICK_RATE_HZ, Ticks
from weightshare.scales.lab.wish import parse_wish
from weightshare.scales.message import Blink, Command, Echo, Kind, Ping, Reply, Result, Start, Stop, Who
from weightshare.scales.stream import CommandReader
from weightshare.scales.transport import Transport

FRAME_S = 0.02
MOST_ROWS = 100
BUFFERED_S = 60
"""What the library keeps while nobody reads."""
UPSIDE_DOWN_N = -200.0
UPSIDE_DOWN_S = 2.0
"""A total under the one for so long is a person whose load is counted negative, and no offset of an empty plate."""


class LabTransport(Transport):
    """The stream that `spec` asks for (what follows `lsl:`) as a scale.

    Raises OptionError where `spec` is misspelt or the extra `lsl` is not installed.
    """

    def __init__(self, spec: str) -> None:
        self.name = f"lsl:{spec}"
        self._wish = parse_wish(spec)
        self._lsl = load_library()
        self._inlet: Any = None
        self._forget()

    def _forget(self) -> None:
        self._reader = CommandReader()
        self._answers: list[bytes] = []
        self._sampling = False
        self._sequence = 0
        self._down_s = 0.0

    def open(self) -> None:
        """Find the stream and subscribe to it. Raises DeviceError where that cannot be, or its feet cannot be told."""
        self.close()
        try:
            inlet = self._lsl.StreamInlet(find_stream(self._wish.name), BUFFERED_S, recover=False)
            stream = describe(inlet.info(timeout=ANSWER_S))
            require_steady(stream)
            self._feet = choose_feet(stream.channels, self._wish)
            inlet.open_stream(timeout=ANSWER_S)
        except DeviceError as error:
            raise DeviceError(f"{self.name}: {error}") from error
        except (RuntimeError, self._lsl.util.LostError, self._lsl.util.TimeoutError) as error:
            raise DeviceError(f"{self.name}: the stream does not answer; start it anew") from error
        self.remark = f"{self._wish.name}: {say_feet(self._feet)}; the calibration is the laboratory's own"
        self._identity = make_identity(stream)
        self._ticks = Ticks(stream.rate_Hz)
        self._rows = min(max(int(stream.rate_Hz * FRAME_S), 1), MOST_ROWS)
        self._inlet = inlet

    def read(self, timeout_s: float) -> bytes:
        """Return what came within `timeout_s`, as frames. Raises DeviceError where the stream was lost."""
        inlet = self._opened()
        answers, self._answers = b"".join(self._answers), []
        if answers:
            return answers
        try:
            forces, stamps = inlet.pull_chunk(timeout=timeout_s, max_samples=self._rows, as_numpy=True)
            return self._frames(np.asarray(forces, dtype=np.float64), stamps) if len(stamps) and self._sampling else b""
        except self._lsl.util.LostError as error:
            raise DeviceError(f"{self.name}: the stream was lost; start it again") from error
        except DeviceError as error:
            raise DeviceError(f"{self.name}: {error}") from error

    def write(self, data: bytes) -> None:
        """Take commands; their answers come with the next read. Raises DeviceError where the stream is not open."""
        self._opened()
        for command in self._reader.feed(data):
            answer = command if isinstance(command, Reply) else self._obey(command)
            self._answers.append(to_stream(encode(answer)))

    def close(self) -> None:
        """Leave the stream; closing twice is nothing."""
        inlet, self._inlet = self._inlet, None
        if inlet is not None:
            inlet.close_stream()
        self._forget()

    def _obey(self, command: Command) -> Identity | Reply | Echo:
        if isinstance(command, Who):
            return self._identity
        if isinstance(command, Ping):
            return Echo(command.nonce, self._tick_now())
        if isinstance(command, Start):
            return Reply(Kind.START, command.token, self._start(command.rate_Hz))
        if isinstance(command, Stop):
            self._sampling = False
            return Reply(Kind.STOP, command.token, Result.DONE)
        assert isinstance(command, Blink)
        # a stream has no light
        return Reply(Kind.BLINK, command.token, Result.UNKNOWN_COMMAND)

    def _start(self, asked_Hz: float) -> Result:
        if asked_Hz and abs(asked_Hz - self._identity.rate_Hz) > 0.1:
            return Result.OUT_OF_RANGE
        if not self._sampling:
            self._inlet.flush()
            self._sampling, self._sequence = True, 0
        return Result.DONE

    def _tick_now(self) -> int:
        """Return the tick of now by the clock that stamps the samples."""
        try:
            ahead_s = float(self._inlet.time_correction(timeout=ANSWER_S))
        except (RuntimeError, self._lsl.util.LostError, self._lsl.util.TimeoutError) as error:
            raise DeviceError(f"{self.name}: the clock of the stream does not answer; start it anew") from error
        now_s = float(self._lsl.local_clock()) - ahead_s
        return round(now_s * TICK_RATE_HZ) & 0xFFFFFFFF

    def _frames(self, forces: Floats, stamps: Floats) -> bytes:
        """Return samples as frames, one for each even run. forces: shape (n, channels); stamps: s, shape (n,)."""
        counts = to_counts(forces, self._feet)
        self._watch_sign(counts)
        sent = b""
        for run in self._ticks.place(stamps.tolist()):
            sent += to_stream(encode_samples(self._sequence, run.tick, self._ticks.step, counts[run.first : run.end]))
            self._sequence += 1
        return sent

    def _watch_sign(self, counts: NDArray[np.int32]) -> None:
        """Raise DeviceError where somebody stands there with a load that is counted negative."""
        read = counts[(counts != NO_READING).all(axis=1)]
        total_N = read.sum(axis=1, dtype=np.int64) * NEWTON_PER_COUNT
        upside_down = total_N.size > 0 and bool((total_N < UPSIDE_DOWN_N).all())
        self._down_s = self._down_s + len(counts) / self._identity.rate_Hz if upside_down else 0.0
        if self._down_s >= UPSIDE_DOWN_S:
            other = "positive" if self._wish.negative else "negative"
            raise DeviceError(f"the load comes with the wrong sign; add ,load={other} to the source")

    def _opened(self) -> Any:
        if self._inlet is None:
            raise DeviceError(f"{self.name}: the stream is not open")
        return self._inlet


def to_counts(forces: Floats, feet: tuple[Foot, Foot]) -> NDArray[np.int32]:
    """Return the loads under both feet in counts of 1 mN, int32 of shape (n, 2); NO_READING for what is no number.

    forces: shape (n, channels), each in its own unit.
    """
    newtons = np.stack([forces[:, foot.index] * foot.newtons for foot in feet], axis=1)
    counts = np.rint(newtons / NEWTON_PER_COUNT)
    fits = np.isfinite(counts) & (np.abs(counts) < 2**31)
    return np.where(fits, counts, NO_READING).astype(np.int32)
