"""Everything that a practice window paints, as one frozen value. No Qt, no clock."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np

from weightshare.exercise import Phase, Tempo
from weightshare.model import Bools, Floats, Side
from weightshare.tongue import mark


class Step(StrEnum):
    """Where a practice session stands, in the order in which it goes."""

    CONNECT = "connect"
    ZERO = "zero"
    WEIGH = "weigh"
    CHECK = "check"
    BALANCE = "balance"
    """The load is shifted from side to side, to compare the two plates."""
    READY = "ready"
    PRACTISE = "practise"
    REST = "rest"
    """Between two sets."""
    DONE = "done"


class Shape(StrEnum):
    """The mark that says the state without colour and without words."""

    NONE = "none"
    DISC = "disc"
    """In the band."""
    TO_LEFT = "to left"
    """Outside; the weight belongs further to the left."""
    TO_RIGHT = "to right"
    DIAMOND = "diamond"
    """Someone stands there, but it does not count."""
    RING = "ring"
    """Wait: zero, weighing, nobody there."""
    CROSS = "cross"
    """No data, or none that can be used."""

    @classmethod
    def towards(cls, side: Side) -> Shape:
        """Return the arrowhead that points to `side`."""
        return cls.TO_RIGHT if side is Side.RIGHT else cls.TO_LEFT


@dataclass(frozen=True, slots=True)
class Figures:
    """The figures beside the path, as text; empty where there is none to show."""

    share: str = ""
    """In supported work the load, in kg."""
    share_unit: str = "%"
    share_label: str = ""
    aim: str = ""
    held: str = ""
    held_label: str = ""
    held_unit: str = "s"
    """Empty for a count of repetitions."""
    held_goal: str = ""
    held_fraction: float = 0.0
    """How much of the hold goal is held, 0 to 1."""
    stones: int = 0
    """How many pieces the hold goal is drawn in; 0 where none is drawn."""
    holds: str = ""
    holds_label: str = mark("holds")
    """What is counted there: holds or sets."""
    holds_done: int = 0
    holds_asked: int = 0
    load_kg: str = ""
    load_percent: str = ""
    load_label: str = ""
    share_doubt: str = ""
    """For the clinician: the share's expanded uncertainty. Empty in the patient's view, and where it cannot be told."""
    evidence: tuple[str, ...] = ()
    """For the clinician: both loads and the share with what they are worth, and how the calibration stands."""


@dataclass(frozen=True, slots=True, eq=False)
class Ahead:
    """The corridor of the coming seconds: its edges as places across the path at instants from now on.

    The first instant is 0 and has the very edges that are measured against now.
    """

    from_now_s: Floats
    """Shape (m,), rising from 0."""
    low: Floats
    high: Floats
    marks: tuple[tuple[float, str], ...] = ()
    """Where a phase begins: seconds from now, and the word for it (up, hold, down, rest)."""
    waits: bool = False
    """It stands still until the person starts."""


@dataclass(frozen=True, slots=True)
class Heels:
    """How high the heels are, in parts of a full raise (0 at the level of standing, 1 at the reference)."""

    left: float | None = None
    right: float | None = None
    """None: not measured, or not read."""
    goal: float | None = None
    """From where on a raise counts; None where none is asked for."""


@dataclass(frozen=True, slots=True, eq=False)
class Path:
    """The path that is steered along. Places across it are the right foot's share in percent: 0 left, 100 right."""

    reach_points: float = 50.0
    """How far the drawn width reaches to each side of an even split."""
    middle: str = mark("even")
    """What lies in the middle: an even split, or in supported work the load that is asked for."""
    low: float | None = None
    """The band's edges; None where no target is set."""
    high: float | None = None
    place: float | None = None
    """Where the puck stands; None: no puck."""
    inside: bool = False
    """The share is within the band, its edges inside."""
    counts: bool = False
    """Time goes to the hold: within the band, and the load where it should be."""
    solid: bool = True
    """Whether what is done now can count at all; else the corridor is drawn hollow."""
    now_s: float | None = None
    """The sample time at the now-line, s."""
    trail_time_s: Floats = field(default_factory=lambda: np.empty(0))
    trail_place: Floats = field(default_factory=lambda: np.empty(0))
    """Shape (n,), NaN where there was no share."""
    trail_inside: Bools = field(default_factory=lambda: np.empty(0, dtype=np.bool_))
    paved: tuple[tuple[float, float], ...] = ()
    """Sample times from which to which the share counted, s."""
    to_goal_s: float | None = None
    """How long is still to be held; None where no goal line is drawn."""
    trail_low: Floats = field(default_factory=lambda: np.empty(0))
    """The band's edges at the trail's times, shape (n,); empty: the band stood where it stands now."""
    trail_high: Floats = field(default_factory=lambda: np.empty(0))
    ahead: Ahead | None = None
    """None: the band stays where it is."""
    heels: Heels | None = None
    beat: float | None = None
    """How far the metronome's beat has faded, 1 on the beat to 0; None where none goes."""
    hidden: bool = False
    """A blind set: neither corridor nor puck nor trail is to be seen."""
    cued: bool = True
    """Reaching and losing the band are told by sound now; not while the band turns, nor at the bottom."""


@dataclass(frozen=True, slots=True)
class Pulse:
    """The metronome: one cycle of `tempo`, which began `since_s` ago when this was made (below 0: is to begin).

    The sound of a cycle is laid out once, in audio samples, when its number is new; then it runs by itself.
    """

    cycle: int
    tempo: Tempo
    since_s: float
    count_in: int = 0
    """So many beats, a second apart, lead up to the cycle's begin."""
    repeats: bool = False
    """The cycle follows itself without a break, for as long as there is a pulse with its number."""
    first: Phase = Phase.RISE
    """The phase that the cycle begins with."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure in large type: what it is, its value, its unit, and what stands beside it."""

    label: str
    value: str
    unit: str = ""
    beside: str = ""


@dataclass(frozen=True, slots=True)
class Rest:
    """Between two sets: the clock, and the three figures of the set that matter."""

    title: str
    left: str
    """Time left, as text: minutes and seconds."""
    left_fraction: float
    """The part of the rest that is left, 1 to 0."""
    figures: tuple[Figure, ...] = ()
    lines: tuple[str, ...] = ()
    """What else there is to say of the set, plainly."""
    over: bool = False
    """The rest is over: the next set begins as the person starts."""


class AlarmKind(StrEnum):
    """What an alarm is about; each has a shape, a word, a colour and a sound of its own."""

    OVER = "over the ceiling"
    UNREAD = "load cannot be read"


@dataclass(frozen=True, slots=True)
class Alarm:
    """The ceiling's alarm, over everything else."""

    kind: AlarmKind
    headline: str
    """What to do now."""
    words: str
    """What happened: the load now, the greatest and the limit in kg."""
    note: str = ""
    """What follows from it at this step."""


@dataclass(frozen=True, slots=True)
class SetRow:
    """One set in the summary: its cells as text, in the order of the table's heads."""

    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Soles:
    """The picture of the two plates before practice: which feet stand there and which one is meant."""

    feet: bool = False
    standing: bool = False
    """Somebody is there; else the feet are only where they belong."""
    named: Side | None = None
    """The foot that is asked to do something."""
    part: float = 0.0
    """How much of what it is asked for is there, 0 to 1, in steps of a twentieth."""
    swapped: bool = False
    reach_percent: tuple[float, float] | None = None
    """Between which shares of the left side the load is to be shifted; None: it is not."""
    place_percent: float | None = None
    """Where it is now, in steps of a half."""


@dataclass(frozen=True, slots=True, eq=False)
class Summary:
    """What a session came to, in figures, in text, and as the course of the share over it."""

    held_s: tuple[float, ...] = ()
    goal_s: float = 0.0
    lines: tuple[str, ...] = ()
    course_time_s: Floats = field(default_factory=lambda: np.empty(0))
    course_percent: Floats = field(default_factory=lambda: np.empty(0))
    """The injured side's share, shape (n,) like the times; NaN where there was none."""
    band_percent: tuple[float, float] | None = None
    edges_percent: tuple[Floats, Floats] | None = None
    """Lower and upper edge of the band at those times, shape (n,) each, where it goes up and down; None: it stands."""
    heads: tuple[str, ...] = ()
    """Of the table of sets; empty where the session was one of holds."""
    rows: tuple[SetRow, ...] = ()
    findings: tuple[str, ...] = ()
    """For the clinician, quietly: whether what was asked was reached, in this session, and of this patient."""


@dataclass(frozen=True, slots=True, eq=False)
class Screen:
    """What the window shows now. One of `path`, `soles`, `rest` and `summary` is there; the figures stand beside it."""

    step: Step
    headline: str
    """What to do now, in one line."""
    state: str
    """The state in words."""
    shape: Shape
    injured: Side
    figures: Figures = Figures()
    path: Path | None = None
    soles: Soles | None = None
    summary: Summary | None = None
    rest: Rest | None = None
    phase: Phase | None = None
    pulse: Pulse | None = None
    """None: no metronome sounds."""
    alarm: Alarm | None = None
    """Painted over whatever else is shown."""
    blank: bool = False
    """No data for 300 ms: nothing measured is on the screen."""
    note: str = ""
    """A second state in words: part of the weight elsewhere."""
    hint: str = ""
    """What the keyboard offers now, for whoever sits at it."""
    warnings: tuple[str, ...] = ()
    source: str = ""
    """Who or what stands on the scales, where it is no real person."""
    key: str = ""
    """What the big key does now; empty: nothing."""
    trouble: str = ""
    """Why the scales cannot be used, in words that say what to do; empty where they can. The retry key tries again."""
    age_s: float = float("inf")
    """How old the newest sample was when this was made."""
