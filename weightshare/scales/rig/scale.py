"""The scale's side of the wire protocol, with time handed in: commands in, frames out, nothing sleeps."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from weightshare.model import Condition, Floats, Identity
from weightshare.scales.frame import (
    Blink,
    Command,
    Echo,
    Kind,
    Ping,
    Reply,
    Result,
    Start,
    Stop,
    Who,
    encode,
    encode_samples,
    to_stream,
)
from weightshare.scales.rig.cell import COLUMNS, PAIR_ID, Cells
from weightshare.scales.rig.heel import HEELS_OF, HeelSensors
from weightshare.scales.rig.oscillator import TICK_RATE_HZ, Boot, Oscillator
from weightshare.scales.rig.scene import Scene
from weightshare.scales.rig.told import LOW_MV, SIDE_OF, battery_mV, tell_identity
from weightshare.scales.rig.wish import FASTEST_HZ, SLOWEST_HZ
from weightshare.scales.stream import CommandReader

FRAME_S = 0.02
"""How often a SAMPLES frame leaves, where the rate allows; the protocol asks for 50 ms at least."""
AHEAD_S = 0.65
"""So far is looked ahead, where nobody can change what comes: shorter than any reaction to a cue."""
DEAF_AFTER_NS = 30_000_000_000
BOOT_NS = 1_000_000_000
TEMPERATURE_DEGC = 21.5


@dataclass(slots=True)
class Run:
    """Samples under way since one START; ticks here do not wrap."""

    first_tick: int
    step: int
    rows: int
    visit_s: float
    """The visit's time at the first sample."""
    taken: int = 0
    """Samples taken so far."""
    frames: int = 0
    conditions: int = 0
    ahead: tuple[Floats, Floats, Floats] | None = None
    """Times, true forces and heights of the frames up to the next that is a multiple of `ahead_frames`."""

    @property
    def ahead_frames(self) -> int:
        """How many frames are looked at together: a cue must still come in time."""
        return max(1, int(AHEAD_S * TICK_RATE_HZ / (self.rows * self.step)))

    @property
    def frame_tick(self) -> int:
        """The tick at which the next SAMPLES frame is full."""
        return self.first_tick + (self.taken + self.rows - 1) * self.step

    @property
    def condition_tick(self) -> int:
        """The tick of the next CONDITION."""
        return self.first_tick + (self.conditions + 1) * TICK_RATE_HZ


class VirtualScale:
    """One scale. `receive` takes bytes from the host; `advance` returns the frames sent until now.

    Times are ns of one clock that never goes back. `drift_ppm` is how much too fast its oscillator runs.
    """

    def __init__(
        self,
        scene: Scene,
        device_id: str = PAIR_ID,
        *,
        power_on_ns: int = 0,
        start_tick: int = 0,
        drift_ppm: float = 0.0,
        rate_Hz: float = 100.0,
    ) -> None:
        self._scene = scene
        self._cast = scene.cast
        self._kind = device_id
        self.side = SIDE_OF[device_id]
        """Under which foot it is, whatever it says; None: under both."""
        self.fault = self._cast.fault.befalling(self.side)
        self.identity = tell_identity(device_id, self._cast, self.fault, rate_Hz)
        self.blinked_ms: list[int] = []
        """How long each BLINK so far was."""
        self.lamp: Callable[[int], object] | None = None
        """Told how long (ms) the light goes on, at each BLINK."""
        self._oscillator = Oscillator(power_on_ns, start_tick, drift_ppm)
        self._note_boot()
        self._cells, self._heels = self._new_cells(), self._new_heels()
        self._reader = CommandReader()
        self._sent: list[tuple[int, bytes]] = []
        self._run: Run | None = None
        self._heard_ns = self._awake_ns = power_on_ns
        self._restarts_s = list(self.fault.restart_s)

    def tick_at(self, now_ns: int) -> int:
        """Return the tick at `now_ns`, before it wraps."""
        return self._oscillator.tick_at(now_ns)

    def instant_at(self, tick: int) -> int:
        """Return the first ns at which `tick` has come."""
        return self._oscillator.instant_at(tick)

    def receive(self, data: bytes, now_ns: int) -> None:
        """Take bytes that the host sent; answers leave with the next `advance`."""
        self._advance(now_ns)
        if now_ns < self._awake_ns:
            return
        for command in self._reader.feed(data):
            self._take(command, now_ns)

    def advance(self, now_ns: int) -> list[tuple[int, bytes]]:
        """Return what was sent until `now_ns`: the instant (ns) and the stream bytes of each frame, in order."""
        self._advance(now_ns)
        sent, self._sent = self._sent, []
        return sent

    def next_ns(self) -> int | None:
        """Return when the next frame leaves unasked, or None where none will."""
        run = self._run
        return None if run is None else self.instant_at(min(run.frame_tick, run.condition_tick))

    def _take(self, command: Command | Reply, now_ns: int) -> None:
        """Answer a command; a Reply is the ready refusal of one that is none."""
        self._heard_ns = now_ns
        answer = command if isinstance(command, Reply) else self._obey(command, now_ns)
        self._send(now_ns, encode(answer))

    def _obey(self, command: Command, now_ns: int) -> Reply | Identity | Echo:
        if isinstance(command, Who):
            return self.identity
        if isinstance(command, Ping):
            return Echo(command.nonce, self.tick_at(now_ns) & 0xFFFFFFFF)
        if isinstance(command, Start):
            return Reply(Kind.START, command.token, self._start(command.rate_Hz, now_ns))
        if isinstance(command, Stop):
            self._stop()
            return Reply(Kind.STOP, command.token, Result.DONE)
        assert isinstance(command, Blink)
        self.blinked_ms.append(command.duration_ms)
        if self.lamp is not None:
            self.lamp(command.duration_ms)
        return Reply(Kind.BLINK, command.token, Result.DONE)

    def _start(self, asked_Hz: float, now_ns: int) -> Result:
        rate_Hz = self.fault.sampled_Hz or asked_Hz or self.identity.rate_Hz
        if not SLOWEST_HZ <= rate_Hz <= FASTEST_HZ:
            return Result.OUT_OF_RANGE
        step = round(TICK_RATE_HZ / rate_Hz)
        first_tick = self.tick_at(now_ns) + step
        visit_s, new = self._scene.begin(self.identity.device_id, self.instant_at(first_tick), step / TICK_RATE_HZ)
        if new:
            self._cells, self._heels = self._new_cells(), self._new_heels()
            self._restarts_s = list(self.fault.restart_s)
        self._run = Run(first_tick, step, max(1, round(FRAME_S * rate_Hz)), visit_s)
        return Result.DONE

    def _stop(self) -> None:
        self._run = None
        self._scene.end(self.identity.device_id)

    def _new_cells(self) -> Cells:
        return Cells(COLUMNS[self._kind], self._cast.seed, self.fault, hidden=self._cast.hidden)

    def _new_heels(self) -> HeelSensors | None:
        cast = self._cast
        heels = HEELS_OF[self._kind]
        stature_m = cast.profile.stature_m
        return HeelSensors(heels, cast.seed, self.fault, cast.placement_mm, stature_m) if cast.heels.fitted else None

    def _advance(self, now_ns: int) -> None:
        """Go on to `now_ns`, stopping on the way where the scale restarts or has heard nothing for too long."""
        restart_ns = self._scene.instant_ns(self._restarts_s[0]) if self._restarts_s else None
        if restart_ns is not None and restart_ns <= now_ns:
            self._sample(restart_ns)
            self._restart(restart_ns)
            self._advance(now_ns)
            return
        deaf_ns = self._heard_ns + DEAF_AFTER_NS
        self._sample(min(now_ns, deaf_ns))
        if now_ns >= deaf_ns:
            self._stop()

    def _restart(self, now_ns: int) -> None:
        self._restarts_s.pop(0)
        self._run = None
        self._awake_ns = now_ns + BOOT_NS
        self._oscillator = replace(self._oscillator, power_on_ns=now_ns, start_tick=0)
        self._reader = CommandReader()
        self.identity = replace(self.identity, boot_count=self.identity.boot_count + 1)
        self._note_boot()

    def _note_boot(self) -> None:
        own = self.identity
        self._scene.boots.append(Boot(own.device_id, self.side, own.boot_count, self._oscillator))

    def _sample(self, until_ns: int) -> None:
        run, until_tick = self._run, self.tick_at(until_ns)
        while run is not None and min(run.frame_tick, run.condition_tick) <= until_tick:
            if run.frame_tick <= run.condition_tick:
                self._send_samples(run)
            else:
                self._send_condition(run)

    def _send_samples(self, run: Run) -> None:
        tick, sequence = run.first_tick + run.taken * run.step, run.frames
        sent_ns = self.instant_at(run.frame_tick)
        run.taken += run.rows
        run.frames += 1
        if self._is_silent(run, tick):
            return
        time_s, force_N, height_mm = self._look(run, sequence)
        self._scene.note_sample(float(time_s[-1]))
        interval_s = run.step / TICK_RATE_HZ
        readings = self._cells.read(time_s, force_N, interval_s, self._scene.x_part(time_s))
        if self._heels is not None:
            readings = np.concatenate((readings, self._heels.read(time_s, height_mm, interval_s)), axis=1)
        self._send(sent_ns, encode_samples(sequence, tick, run.step, readings))

    def _look(self, run: Run, frame: int) -> tuple[Floats, Floats, Floats]:
        """Return the visit's times, the true forces and the true heights of one frame.

        Nobody but a steered person can change what comes next, so that others are looked at many frames ahead: it is
        far cheaper.
        """
        if self._cast.profile.steered:
            time_s = self._times(run, frame, 1)
            return time_s, *self._scene.look(time_s)
        place = frame % run.ahead_frames
        if place == 0 or run.ahead is None:
            time_s = self._times(run, frame - place, run.ahead_frames)
            run.ahead = time_s, *self._scene.look(time_s)
        rows = slice(place * run.rows, (place + 1) * run.rows)
        time_s, force_N, height_mm = run.ahead
        return time_s[rows], force_N[rows], height_mm[rows]

    def _times(self, run: Run, frame: int, frames: int) -> Floats:
        sample = np.arange(frame * run.rows, (frame + frames) * run.rows, dtype=np.float64)
        return run.visit_s + sample * (run.step * 1e6) / self._oscillator.micro_ticks

    def _is_silent(self, run: Run, tick: int) -> bool:
        silent_s = self.fault.silent_after_s
        return silent_s is not None and tick - run.first_tick >= silent_s * TICK_RATE_HZ

    def _send_condition(self, run: Run) -> None:
        tick = run.condition_tick
        run.conditions += 1
        on_s = (self.instant_at(tick) - self._oscillator.power_on_ns) / 1e9
        left_mV = battery_mV(self._kind, self.fault, on_s)
        state = Condition(tick & 0xFFFFFFFF, left_mV, TEMPERATURE_DEGC, 0, self._faults(run, tick, left_mV))
        self._send(self.instant_at(tick), encode(state))

    def _faults(self, run: Run, tick: int, left_mV: int) -> int:
        faults = Condition.CELL_SILENT if self._cells.silent or self._is_silent(run, tick) else 0
        faults |= Condition.OVERLOAD if self._cells.overloaded else 0
        self._cells.overloaded = False
        return faults | (Condition.BATTERY_LOW if 0 < left_mV < LOW_MV else 0)

    def _send(self, sent_ns: int, frame: bytes) -> None:
        self._sent.append((sent_ns, to_stream(frame)))
