"""Who can stand on the virtual scales, and what can go wrong with them: each by its name, in one line of words."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.errors import OptionError


@dataclass(frozen=True, slots=True)
class Profile:
    """One kind of person. All figures are invented; shares are in points of the load on the plates."""

    name: str
    words: str
    body_weight_N: float
    habit_percent: float = 50.0
    """The injured side's share while just standing."""
    sway_points: float = 1.4
    """Standard deviation of the share while just standing."""
    steered_sway_points: float = 0.7
    """The same while the share is watched on a screen."""
    total_noise_percent: float = 0.18
    follows: bool = True
    """Does the exercise: shifts to the target, holds, comes back."""
    reaction_s: tuple[float, float] = (0.25, 0.32)
    move_s: tuple[float, float] = (0.9, 1.3)
    aim_points: float = 0.8
    """Standard deviation of where a shift ends, about the target."""
    tremor_points: tuple[float, float] = (0.05, 0.25)
    """Tremor at the beginning and at the end of a hold, standard deviation."""
    stray_every_s: tuple[float, float] | None = None
    """How long it takes until the load strays out of the band again."""
    rail_fraction: float = 0.0
    """Part of body weight that a hand on the rail carries during the exercise."""
    leaves: bool = False
    """Steps off in the middle of a hold, and comes back."""
    steered: bool = False
    """The share is set live by who sits at the keys."""


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


PEOPLE: dict[str, Profile] = {
    profile.name: profile
    for profile in (
        Profile("quiet", "stands quietly, near half and half", 688.0, follows=False),
        Profile(
            "favouring", "favours the good leg: 40 % on the injured side, whatever is asked", 745.0, 40.0, follows=False
        ),
        Profile("steady", "follows the target and holds it well", 712.0),
        Profile(
            "shaky",
            "follows the target with effort: shakes, tires, strays out of the band",
            634.0,
            sway_points=1.7,
            steered_sway_points=1.1,
            reaction_s=(0.32, 0.4),
            move_s=(0.9, 1.6),
            aim_points=1.3,
            tremor_points=(0.2, 0.8),
            stray_every_s=(2.5, 6.0),
        ),
        Profile("rail", "follows the target with a hand on the rail, which carries a part", 803.0, rail_fraction=0.17),
        Profile("leaver", "follows the target, steps off in the middle of a hold, and comes back", 671.0, leaves=True),
        Profile(
            "steered",
            "goes where the arrow keys send the load",
            700.0,
            sway_points=0.9,
            steered_sway_points=0.5,
            follows=False,
            steered=True,
        ),
    )
}

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
