"""A scale on trial: one link that is recorded nowhere, and what its samples say."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.errors import CalibrationError
from weightshare.metrology.reading import Kind, Mass, Placement
from weightshare.model import STANDARD_GRAVITY, Calibration, Identity, Side
from weightshare.practice.startmeter import Meter, PlateSeen, Seen, plates_of
from weightshare.records.calibration import choose_calibration
from weightshare.records.recorder import Unrecorded
from weightshare.scales.link import Link, Phase, Status
from weightshare.scales.rig import RigTransport
from weightshare.scales.rig.wish import on_bench
from weightshare.scales.source import RigSource, open_source, parse_source
from weightshare.scales.transport import Transport
from weightshare.tongue import mark, say

NO_PLATE = mark("it measures no force: this is no scale to stand on")
BLINK_MS = 5000
TOUCH = Mass("a foot, set down lightly", 8.0, 0.0)
"""What a virtual foot weighs down with."""
TOUCH_S = 2.5


class Trial:
    """Runs from `start` to `stop`. Raises WeightshareError where the source is none.

    On virtual scales nobody stands: `touch` is a foot that presses a plate for 2.5 s.
    """

    def __init__(self, source: str, transport: Transport | None = None) -> None:
        self.source = source
        self.meter = Meter()
        self.calibration: Calibration | None = None
        self.calibration_trouble = ""
        """Why the calibration that is kept cannot be used, in words."""
        self._transport = transport or _open(source)
        self._link = Link(self._transport, Unrecorded(), self.meter.hear, self._judge)
        self._touches = 0
        self._lifted_at_s: tuple[float, Side] | None = None

    @property
    def status(self) -> Status:
        """How the link stands."""
        return self._link.status

    @property
    def identity(self) -> Identity | None:
        """What the scale said of itself; None before it did."""
        return self._link.status.identity

    @property
    def is_sampling(self) -> bool:
        """Whether samples come."""
        return self._link.status.phase is Phase.SAMPLING

    @property
    def is_refused(self) -> bool:
        """Whether it cannot be used at all; one that is only silent for a moment can."""
        return self._link.status.phase is Phase.REFUSED

    @property
    def is_virtual(self) -> bool:
        """Whether nobody real stands there."""
        return isinstance(self._transport, RigTransport)

    @property
    def told(self) -> str:
        """What it tells of itself beside its samples, in words: its firmware's version, and what its link has."""
        firmware = (
            ""
            if self.identity is None
            else say("firmware {version}", version=".".join(map(str, self.identity.firmware)))
        )
        return ", ".join(filter(None, (self._transport.told, firmware)))

    def seen(self) -> Seen:
        """Return the newest of everything that its samples say."""
        return self.meter.seen()

    def start(self) -> None:
        """Begin to connect."""
        self._link.start()

    def blink(self) -> None:
        """Have it show its light for five seconds."""
        self._link.blink(BLINK_MS)

    def ask_to_stop(self) -> None:
        """Let the scale go; `join` waits for it."""
        self._link.ask_to_stop()

    def join(self, timeout_s: float) -> bool:
        """Wait until the scale is let go; return whether that was in time."""
        return self._link.join(timeout_s)

    def touch(self, side: Side, now_s: float) -> None:
        """Press the plate under the foot `side` for a while; on virtual scales alone."""
        if self._lifted_at_s is None:
            self._place(side, (0,))
            self._lifted_at_s = now_s + TOUCH_S, side

    def keep_up(self, now_s: float) -> None:
        """Lift the virtual foot when its time has come. `now_s`: of any clock, the same as for `touch`."""
        if self._lifted_at_s is not None and now_s >= self._lifted_at_s[0]:
            side, self._lifted_at_s = self._lifted_at_s[1], None
            self._place(side, ())

    def _place(self, side: Side, masses: tuple[int, ...]) -> None:
        if isinstance(self._transport, RigTransport):
            self._touches += 1
            self._transport.place(Placement(self._touches, side, Kind.SERIES, masses), [TOUCH], STANDARD_GRAVITY)

    def _judge(self, identity: Identity) -> str | None:
        """Find the scale's calibration; one without is tried all the same."""
        try:
            self.calibration, self.calibration_trouble = choose_calibration(identity.device_id), ""
        except CalibrationError as error:
            self.calibration, self.calibration_trouble = None, str(error)
        self.meter.take(identity, self.calibration)
        return None if plates_of(identity) else say(NO_PLATE)


@dataclass(frozen=True, slots=True)
class Plate:
    """One plate of those chosen: of which trial, and which of that scale's own."""

    trial: Trial
    place: int
    told: Side | None
    """The side that the scale says itself."""

    @property
    def seen(self) -> PlateSeen:
        """What it reads."""
        plates = self.trial.seen().plates
        return plates[self.place] if self.place < len(plates) else PlateSeen(self.told)


def _open(source: str) -> Transport:
    parsed = parse_source(source)
    return open_source(RigSource(on_bench(parsed.spec)) if isinstance(parsed, RigSource) else parsed)
