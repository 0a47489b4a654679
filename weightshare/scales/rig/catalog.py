"""Who can stand on the virtual scales, and what can go wrong with them: each by its name, in one line of words."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.errors import OptionError
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


FAULTS: dict[str, Fault] = {
    fault.name: fault
    for fault in (
        Fault("clean", "nothing goes wrong"),
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
        Fault("zero-load", "a bag of 8 kg lies on the left plate at the start", bag_N=78.5),
    )
}


def find_person(name: str) -> Profile:
    """Return the profile called `name`. Raises OptionError, which lists what there is."""
    if name not in PEOPLE:
        raise OptionError(f"--person {name}: there is no such person on the rig; there are {', '.join(PEOPLE)}")
    return PEOPLE[name]


def find_fault(name: str) -> Fault:
    """Return the fault called `name`. Raises OptionError, which lists what there is."""
    if name not in FAULTS:
        raise OptionError(f"--faults {name}: the rig has no such fault; it has {', '.join(FAULTS)}")
    return FAULTS[name]
