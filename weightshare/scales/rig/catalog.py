"""Who can stand on the virtual scales, and what can go wrong with them: each by its name, in one line of words."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.errors import OptionError
from weightshare.model import Side
from weightshare.scales.rig.people import PEOPLE
from weightshare.scales.rig.profile import Profile

__all__ = ["FAULTS", "PEOPLE", "Fault", "Profile", "find_fault", "find_person"]


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that goes wrong, on the link or in the scale. Times are in s since the first sample."""

    name: str
    words: str
    delay_s: float = 0.0
    burst_s: tuple[float, float] | None = None
    """Bytes are held back this long at most, and then come all at once."""
    loss: float = 0.0
    """The part of the frames that never arrives, in both directions."""
    damage: float = 0.0
    """The part of the frames in which a byte is flipped, dropped or added."""
    unplugged_s: tuple[tuple[float, float], ...] = ()
    restart_s: tuple[float, ...] = ()
    silent_after_s: float | None = None
    """Samples stop so long after each START; commands are still answered."""
    mute: bool = False
    noise: bool = False
    missing: float = 0.0
    """The part of the readings that is not there; now and then a channel is away for longer."""
    overload_s: tuple[tuple[float, float], ...] = ()
    bag_N: float = 0.0
    """A load on the left plate at the start, taken away before anybody steps on."""
    left_high_percent: float = 0.0
    """How much too high the left plate reads."""
    touching: bool = False
    """The two plates touch, and drag one another along."""
    rocking: bool = False
    """The left plate tips between its front and its rear feet."""
    hands: str = ""
    """What the hands on the bench do wrong: wrong-plate, late, person-on or loose-foot; on the bench alone."""
    only: Side | None = None
    """Of two separate scales, the one that it befalls; None: whatever is there."""
    dead_after_s: float | None = None
    """From then on the left plate's front cell does not answer."""
    stuck: bool = False
    """The left plate's front cell stands at the end of its range, whatever lies there."""
    told: str = ""
    """What is wrong with the sides that the scales tell: same, none or swapped."""
    rate_Hz: float | None = None
    """The scale has this rate of its own, and says so."""
    sampled_Hz: float | None = None
    """Samples come at this rate, whatever the scale says and is asked for."""
    protocol: int = 1
    battery_mV: float | None = None
    """What the battery is down to when the scale is switched on; it falls fast."""

    @property
    def of_two(self) -> bool:
        """Whether it takes two separate scales."""
        return self.only is not None or self.told == "same"

    def befalling(self, side: Side | None) -> Fault:
        """Return what of it befalls the scale of `side`; None: one with both sides."""
        return self if self.only in (None, side) else NOTHING


NOTHING = Fault("clean", "nothing goes wrong")

FAULTS: dict[str, Fault] = {
    fault.name: fault
    for fault in (
        NOTHING,
        Fault("delay", "all that is sent arrives 0.12 s late", delay_s=0.12),
        Fault("jitter", "bytes are held back and come in bursts, up to 0.2 s apart", delay_s=0.01, burst_s=(0.02, 0.2)),
        Fault("loss", "one frame in two hundred never arrives", loss=0.005),
        Fault("damage", "one frame in two hundred arrives with a byte flipped, dropped or added", damage=0.005),
        Fault(
            "unplugged",
            "the cable is pulled out and put back, several times",
            unplugged_s=((14.0, 16.5), (27.0, 31.0), (44.0, 46.0), (63.0, 69.0)),
        ),
        Fault("restart", "the scale restarts, and its ticks with it", restart_s=(18.0, 41.0)),
        Fault("silent", "the samples stop 15 s after each START, commands are answered", silent_after_s=15.0),
        Fault("mute", "the scale answers nothing at all", mute=True),
        Fault("noise", "random bytes come instead of frames", noise=True),
        Fault("missing", "readings are not there: single ones, and a channel for up to half a second", missing=0.0005),
        Fault(
            "overload",
            "a cell is pressed beyond its range for a second or two",
            overload_s=((16.0, 17.2), (24.0, 26.0)),
        ),
        Fault("mismatch", "the left plate reads 2 % high", left_high_percent=2.0),
        Fault("touching", "the plates touch, and each drags the other along a little", touching=True),
        Fault("rocking", "the left plate stands unevenly, and tips as the load on it moves", rocking=True),
        Fault("wrong-plate", "on the bench: the first mass is laid on the other plate for 8 s", hands="wrong-plate"),
        Fault("late", "on the bench: nobody lays the first mass on for 45 s", hands="late"),
        Fault("person-on", "on the bench: somebody stands on the plate when the first mass is due", hands="person-on"),
        Fault("loose-foot", "on the bench: the left plate has a loose foot at its rear right", hands="loose-foot"),
        Fault("dead-cell", "a cell of the left plate does not answer", dead_after_s=0.0),
        Fault("cell-dies", "a cell of the left plate no longer answers after 20 s", dead_after_s=20.0),
        Fault("stuck-cell", "a cell of the left plate stands at the end of its range all the time", stuck=True),
        Fault("battery-low", "the battery is nearly empty when the scale is switched on", battery_mV=3340.0),
        Fault("other-rate", "the scale tells its own rate, but samples come at 80 Hz", sampled_Hz=80.0),
        Fault("other-protocol", "the scale speaks version 2 of the protocol", protocol=2),
        Fault("swapped-sides", "the plates stand the wrong way round: what says left is on the right", told="swapped"),
        Fault("untold-sides", "the scales do not say under which foot they are", told="none"),
        Fault("same-side", "both scales say that they are the left one", told="same"),
        Fault(
            "one-silent", "the right scale's samples stop 15 s after each START", silent_after_s=15.0, only=Side.RIGHT
        ),
        Fault(
            "one-unplugged",
            "the right scale's cable is pulled out and put back, several times",
            unplugged_s=((14.0, 16.5), (27.0, 31.0), (44.0, 46.0), (63.0, 69.0)),
            only=Side.RIGHT,
        ),
        Fault(
            "one-restarts", "the right scale restarts, and its ticks with it", restart_s=(18.0, 41.0), only=Side.RIGHT
        ),
        Fault("one-mute", "the right scale answers nothing at all", mute=True, only=Side.RIGHT),
        Fault(
            "two-rates",
            "the right scale's own rate is 80 Hz, whatever the left one's is",
            rate_Hz=80.0,
            only=Side.RIGHT,
        ),
        Fault("zero-load", "a bag of 8 kg lies on the left plate at the start", bag_N=78.5),
    )
}


def find_person(name: str) -> Profile:
    """Return the profile called `name`. Raises OptionError, which lists what there is."""
    if name not in PEOPLE:
        raise OptionError(f"--person {name}: there is no such person on the rig; there are {', '.join(PEOPLE)}")
    return PEOPLE[name]


def find_fault(name: str, *, separate: bool = False) -> Fault:
    """Return the fault called `name`, of two `separate` scales or of one with both sides.

    Raises OptionError where there is none, and lists what there is; and where it takes two scales.
    """
    if name not in FAULTS:
        raise OptionError(f"--faults {name}: the rig has no such fault; it has {', '.join(FAULTS)}")
    if FAULTS[name].of_two and not separate:
        raise OptionError(
            f"--faults {name} takes two scales; ask for them by --separate, or by separate=yes in a source"
        )
    return FAULTS[name]
