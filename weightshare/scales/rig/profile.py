"""What can be said of a person: weight, habits, and the manner of raising the heels. All figures are invented."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from weightshare.exercise import Tempo


class Stroke(StrEnum):
    """How a heel gets from one level to the other."""

    EVEN = "even"
    """Starts and ends softly, at an even speed between."""
    LEAST_JERK = "least jerk"
    """One least-jerk piece from beginning to end."""
    JERKY = "jerky"
    """Several small movements, one after the other."""
    PAUSING = "pausing"
    """Stops half-way up, then goes on to the top."""
    SWINGING = "swinging"
    """A sine, which never stops between down and up."""


class Extra(StrEnum):
    """What somebody does between repetitions that is none."""

    FALSE_LIFT = "false lift"
    HALF_WAY = "half-way return"
    LEAN = "forward lean"
    STUMBLE = "stumble"
    STEP_OFF = "stepping off"


@dataclass(frozen=True, slots=True)
class Manner:
    """How somebody raises the heels, squats and stands up. Heights in mm of true heel travel."""

    heel_mm: float = 84.0
    """The injured heel at the top of a rise on two legs, over the level of standing."""
    good_part: float = 1.07
    """The good heel's height in parts of it."""
    single_part: float = 0.86
    """The working heel's height on one leg, in parts of that on two."""
    spread_mm: float = 2.0
    """Standard deviation of the height from one rise to the next."""
    drop_mm: float = 25.0
    """How far the heels go below the level of standing on a step."""
    stroke: Stroke = Stroke.EVEN
    soft_s: float = 0.45
    """How long a soft start, and a soft end, of an even stroke takes, where there is time for it."""
    tempo: Tempo | None = None
    """The own tempo, kept whatever is asked; None: as asked."""
    tempo_spread: float = 0.05
    """Scatter of each phase's duration, as a part of it."""
    beat_spread_s: float = 0.05
    """Scatter of a rise's begin about its beat."""
    reaction_s: tuple[float, float] = (0.9, 1.4)
    """From a cue to the beginning of the set."""
    lag_s: tuple[float, float] = (-0.1, 0.15)
    """From reaching the top to the beginning of the shift of the load."""
    shift_s: tuple[float, float] = (0.4, 0.6)
    short_points: float = 0.0
    """How far the share stays short of the target."""
    rise_points: float = 0.0
    """How much less than even the injured side carries on the way up."""
    wobble_mm: float = 0.6
    """Standard deviation of each heel's height about its course while it is up."""
    shaking_mm: float = 0.03
    """Standard deviation of its tremor, at 4 to 7 Hz."""
    front_part: float = 0.86
    """The part of a foot's load on the front supports while its heel is up: the ball of the foot."""
    lead_s: tuple[float, float] = (0.11, 0.19)
    """How long before the heel the centre of pressure starts."""
    tired_height: float = 0.06
    """What is lost from the first to the last rise of a set: part of the height ..."""
    tired_points: float = 1.0
    """... points of the share in the lowering ..."""
    tired_tempo: float = 0.05
    """... and part of the lowering's duration."""
    sink_mm: float = 0.0
    """How far the heels sink as the load shifts."""
    bounce_mm: float = 0.0
    """How far the heels bounce after reaching the top."""
    rail_part: float = 0.0
    """The part of body weight on a hand on the rail, in the lowering only."""
    slide_percent: tuple[float, float] | None = None
    """Share in the upper and in the lower half of the way down, whatever is asked."""
    extra: Extra | None = None
    extra_every: int = 3
    """After how many repetitions the extra comes."""
    leans_only: bool = False
    """Leans forward instead of rising."""
    endurance: int = 22
    """How many rises can be done at most."""
    seat_part: float = 0.22
    """The part of body weight on the feet while seated."""


@dataclass(frozen=True, slots=True)
class Profile:
    """One kind of person. Shares are in points of the load on the plates."""

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
    manner: Manner = Manner()
    stature_m: float = 1.72
    placement_mm: float = 0.0
    """How far forward of the heel the height sensors are worn."""
