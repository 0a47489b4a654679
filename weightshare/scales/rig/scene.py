"""Who stands on the plates, and since when: the scene that one scale, or two, look at."""

from __future__ import annotations

import threading
from dataclasses import dataclass, field

from weightshare.model import Floats, Side
from weightshare.scales.rig.catalog import Fault, Profile
from weightshare.scales.rig.heel import HeelBuild
from weightshare.scales.rig.oscillator import Boot
from weightshare.scales.rig.person import Person
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.sets import Cue
from weightshare.scales.rig.shift import Shift


@dataclass(frozen=True, slots=True)
class Cast:
    """All that settles what happens: who, what is asked, what goes wrong, and the seed."""

    profile: Profile
    fault: Fault
    task: Task
    seed: int = 1
    heels: HeelBuild = field(default_factory=HeelBuild)
    patience_s: float = 0.0
    """How long the person waits for the first cue before it goes by itself."""

    hidden: bool = False
    """Whether the cells are not those of the rig's own calibration, but drawn by the seed."""

    @property
    def placement_mm(self) -> float:
        """How far forward of the heel the height sensors are worn, mm."""
        return self.heels.placement_mm or self.profile.placement_mm


class Scene:
    """One person's visit after the other. A visit's time starts at the first sample after START.

    A visit goes on over lost links, restarts and new STARTs; it is over when every scale was told to stop, or
    stopped by itself. The next START then begins a new visit of the same person with the same seed.
    """

    def __init__(self, cast: Cast) -> None:
        self.cast = cast
        self.person: Person | None = None
        self.start_ns = 0
        """When the visit's first sample was taken, true time."""
        self.last_s: float | None = None
        """The newest sample of the visit, s; None before its first."""
        self.interval_s = 0.01
        self.boots: list[Boot] = []
        """Each time that a scale was switched on or restarted, in order."""
        self.turn = threading.RLock()
        """Held by whoever lets a scale go on: two links' threads may look at one person."""
        self._sampling: set[str] = set()
        self._lock = threading.Lock()

    @property
    def over(self) -> bool:
        """Whether no visit is under way."""
        return not self._sampling

    def begin(self, device_id: str, first_ns: int, interval_s: float) -> tuple[float, bool]:
        """Note that a scale takes its first sample at `first_ns`; return the visit's time (s), and if it begins."""
        new = not self._sampling
        if new:
            self.start_ns, self.last_s = first_ns, None
            with self._lock:
                self.person = Person(self.cast.profile, self.cast.task, self.cast.seed, self.cast.patience_s)
        self._sampling.add(device_id)
        self.interval_s = interval_s
        return (first_ns - self.start_ns) / 1e9, new

    def end(self, device_id: str) -> None:
        """Note that a scale stopped sampling, as it was told or by itself."""
        self._sampling.discard(device_id)

    def look(self, time_s: Floats) -> tuple[Floats, Floats]:
        """Return the true forces (N, shape (n, 4)) and heel heights (mm, (n, 2)) at the visit's times `time_s` (n,)."""
        assert self.person is not None, "somebody began the visit"
        return self.person.look(time_s)

    def x_part(self, time_s: Floats) -> Floats | None:
        """Return how far right of its plate's middle each side's load lies, shape (n, 2), -1 to 1; None: in it."""
        return None

    def note_sample(self, time_s: float) -> None:
        """Note that the visit was sampled up to `time_s`."""
        self.last_s = max(self.last_s or 0.0, time_s)

    def instant_ns(self, time_s: float) -> int | None:
        """Return the true time of the visit's `time_s`, or None where no visit is under way."""
        return None if self.over else self.start_ns + round(time_s * 1e9)

    def steer(self, delta_points: float) -> None:
        """Shift the load of a steered person by `delta_points` of share to the injured side. From any thread."""
        with self._lock:
            if self.person is not None:
                self.person.steer(delta_points)

    def lift(self) -> None:
        """Let a steered person put the good foot on the floor, or back on its plate. From any thread."""
        with self._lock:
            if self.person is not None:
                self.person.lift()

    def step(self) -> None:
        """Let a steered person step off, or back on. From any thread."""
        with self._lock:
            if self.person is not None:
                self.person.step()

    def shift(self, wish: Shift) -> None:
        """Let the person shift the load slowly from side to side. From any thread."""
        with self._lock:
            if self.person is not None:
                self.person.shift(wish)

    def cue(self, now_ns: int, working: Side | None = None, beat_s: float | None = None) -> None:
        """Let the person begin a set, on the leg `working` in single-leg work. From any thread.

        `now_ns` is the scale's time; `beat_s` is the visit's time of the metronome's first beat, where there is one.
        """
        with self._lock:
            if self.person is not None and not self.over:
                self.person.cue(Cue((now_ns - self.start_ns) / 1e9, working, beat_s))
