"""The virtual pair inside this program: a transport in front of a station, on a clock of one's choosing."""

from __future__ import annotations

import atexit
import select
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Protocol

from weightshare.errors import DeviceError, OptionError, WeightshareError
from weightshare.metrology.reading import Mass, Placement
from weightshare.model import Side
from weightshare.scales.rig.bench import BENCH_PROFILE, BenchScene
from weightshare.scales.rig.carrier import find_carrier
from weightshare.scales.rig.link import Station
from weightshare.scales.rig.pair import make_stations
from weightshare.scales.rig.scene import Scene
from weightshare.scales.rig.shift import Shift
from weightshare.scales.rig.wish import is_separate, make_cast, parse_spec
from weightshare.scales.transport import Transport
from weightshare.task import Goal, Settings

READ_GRAIN_NS = 1_000_000
"""Bytes that come within a millisecond are taken together."""
PATIENCE_S = 20.0
"""How long a person waits for the first cue of a session, once it stands still; then it goes by itself."""


class Clock(Protocol):
    """Where the rig's time comes from."""

    def now_ns(self) -> int:
        """Return the time in ns; it never goes back."""

    def wait(self, duration_s: float, handles: Sequence[int] = ()) -> None:
        """Come back after `duration_s` of this clock's seconds, or when something came in on a file handle."""


class HostClock:
    """The host's monotonic clock, `speed` times as fast."""

    def __init__(self, speed: float = 1.0) -> None:
        self._speed = speed
        self._begin_ns = time.monotonic_ns()

    def now_ns(self) -> int:
        """Return ns of the monotonic clock, stretched from the moment this was made."""
        return self._begin_ns + round((time.monotonic_ns() - self._begin_ns) * self._speed)

    def wait(self, duration_s: float, handles: Sequence[int] = ()) -> None:
        """Sleep for so long that `duration_s` pass on this clock; what comes in on a handle wakes."""
        if handles:
            select.select(handles, [], [], duration_s / self._speed)
        else:
            time.sleep(duration_s / self._speed)


class StepClock:
    """A clock that stands still until somebody waits, and then jumps: a minute passes in no time."""

    def __init__(self) -> None:
        self._now_ns = 0

    def now_ns(self) -> int:
        """Return ns since this was made, by its own count."""
        return self._now_ns

    def wait(self, duration_s: float, handles: Sequence[int] = ()) -> None:
        """Jump ahead by `duration_s`."""
        self._now_ns += max(1, round(duration_s * 1e9))


class RigTransport(Transport):
    """The virtual pair of scales as a byte stream. `steer`, `lift`, `step` and `cue` may be called from any thread."""

    def __init__(
        self, station: Station, clock: Clock, finish: Callable[[], object] | None = None, name: str = "rig:"
    ) -> None:
        self.name = name
        self.scene = station.scene
        self._station = station
        self._clock = clock
        self._finish = finish
        self._open = False

    def open(self) -> None:
        """Open the stream. Raises DeviceError while the cable is out."""
        self.close()
        self._check(self._clock.now_ns())
        self._open = True

    def read(self, timeout_s: float) -> bytes:
        """Return what has come within `timeout_s`. Raises DeviceError where it is not open, or the cable was pulled."""
        self._check_open()
        now_ns = self._clock.now_ns()
        until_ns = now_ns + round(timeout_s * 1e9)
        while True:
            data = self._station.read(now_ns)
            self._check(now_ns)
            if data or now_ns >= until_ns:
                return data
            next_ns = min(max(self._station.next_ns(now_ns), now_ns + READ_GRAIN_NS), until_ns)
            self._clock.wait((next_ns - now_ns) / 1e9)
            now_ns = self._clock.now_ns()

    def write(self, data: bytes) -> None:
        """Send all of `data`. Raises DeviceError where it is not open, or the cable was pulled."""
        self._check_open()
        now_ns = self._clock.now_ns()
        self._check(now_ns)
        self._station.write(data, now_ns)

    def close(self) -> None:
        """Close the stream; where a visit is over, what really happened is written down."""
        if self._open:
            self._open = False
            self._station.read(self._clock.now_ns())
            if self.scene.over and self._finish is not None:
                self._finish()

    def steer(self, delta_points: float) -> None:
        """Shift the load of a steered person by `delta_points` of share to the injured side."""
        self.scene.steer(delta_points)

    def lift(self) -> None:
        """Let a steered person put the good foot on the floor, or back on its plate."""
        self.scene.lift()

    def step(self) -> None:
        """Let a steered person step off, or back on."""
        self.scene.step()

    def shift(self, wish: Shift) -> None:
        """Let the person shift the load slowly from side to side, whoever it is."""
        self.scene.shift(wish)

    def cue(self, working: Side | None = None, beat_s: float | None = None) -> None:
        """Tell the person that a set begins, on the leg `working` in single-leg work: it does one after a moment.

        From then on it rests until the next cue. `beat_s` is the session's time of the metronome's first beat, where
        there is one. For whoever does no repetitions nothing happens.
        """
        self.scene.cue(self._clock.now_ns(), working, beat_s)

    def place(self, placement: Placement, masses: Sequence[Mass], gravity_m_s2: float) -> None:
        """Let the hands on the bench do what a step of a calibration asks for; elsewhere nothing."""
        if isinstance(self.scene, BenchScene):
            self.scene.place(placement, masses, gravity_m_s2)

    def now_ns(self) -> int:
        """Return the time of the rig's own clock, ns."""
        return self._clock.now_ns()

    @property
    def steered(self) -> bool:
        """Whether the person on the plates follows `steer`."""
        return self.scene.cast.profile.steered

    def _check_open(self) -> None:
        if not self._open:
            raise DeviceError(f"{self.name}: the link is not open")

    def _check(self, now_ns: int) -> None:
        if not self._station.is_up(now_ns):
            self._open = False
            raise DeviceError(f"{self.name}: the cable of the virtual scale is out; it will be put back")


def rig_transport(
    spec: str = "", settings: Settings | None = None, goal: Goal | None = None, *, clock: Clock | None = None
) -> RigTransport:
    """Return the virtual pair that `spec` asks for: what follows `rig:` in a source.

    `spec` is a person's name and wishes, all optional, between commas: `shaky,seed=3,faults=jitter,rate=100,
    truth=FILE`. The person does what `settings` and `goal` ask for (without a target: an even split), and what is
    wished otherwise. It waits a while for the first cue. Raises OptionError for a name, a wish or a value that there is
    not, and lists those that there are; and for separate=yes, which is two transports.
    """
    if is_separate(parse_spec(spec)[1]):
        raise OptionError(f"--source rig:{spec}: separate=yes is two scales, and one is wanted here; leave it out")
    (transport,) = _make_transports(spec, settings, goal, clock)
    return transport


def rig_pair(
    spec: str = "separate=yes",
    settings: Settings | None = None,
    goal: Goal | None = None,
    *,
    clock: Clock | None = None,
) -> tuple[RigTransport, RigTransport]:
    """Return the left and the right of two separate scales that `spec`, with separate=yes, asks for.

    One person stands on both: whichever of the two is told to steer, shift or cue, once is enough. Each has its own
    oscillator and link. Raises OptionError as `rig_transport` does, and where separate=yes is not wished for.
    """
    if not is_separate(parse_spec(spec)[1]):
        raise OptionError(f"--source rig:{spec}: this is one scale with both sides; two are separate=yes")
    left, right = _make_transports(spec, settings, goal, clock)
    return left, right


def _make_transports(
    spec: str, settings: Settings | None, goal: Goal | None, clock: Clock | None
) -> list[RigTransport]:
    settings = settings or Settings(Side.LEFT)
    # nobody is cued to hold
    repeats = settings.is_repeated
    cast, wishes = make_cast(spec, settings, goal or Goal(), PATIENCE_S if repeats else 0.0)
    scene = BenchScene(cast) if cast.profile is BENCH_PROFILE else Scene(cast)
    clock = clock or HostClock(float(wishes["speed"]))
    carrier, separate = find_carrier(wishes["link"]), is_separate(wishes)
    stations = make_stations(scene, carrier, float(wishes["rate"]), clock.now_ns(), separate=separate)
    finish = _truth_writer(scene, wishes["truth"])
    names = [f"rig:{spec}"] if len(stations) == 1 else [f"rig:{spec} ({side})" for side in Side]
    return [RigTransport(station, clock, finish, name) for station, name in zip(stations, names, strict=True)]


def _truth_writer(scene: Scene, text: str) -> Callable[[], object] | None:
    """Return what writes the newest visit's truth down, once, to the file of that name; None for no name."""
    if not text:
        return None
    from weightshare.scales.rig.truth import check_place, write_truth

    path = Path(text)
    check_place("truth", path)
    written_s: float | None = None

    def write() -> None:
        nonlocal written_s
        if scene.last_s == written_s:
            return
        written_s = scene.last_s
        try:
            write_truth(scene, path)
        except WeightshareError as error:
            # neither the session nor the program's exit has to fail for it
            print(f"weightshare: {error}", file=sys.stderr)

    # a visit whose end the scale never heard of is written down too
    atexit.register(write)
    return write
