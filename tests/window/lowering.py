"""Hand-made screens of a person who goes up on two legs and down with three quarters of the load on one."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from weightshare.exercise import Tempo
from weightshare.model import Floats, Side
from weightshare.pipeline.aim import smooth
from weightshare.practice.screen import (
    Ahead,
    Alarm,
    AlarmKind,
    Figure,
    Figures,
    Heels,
    Path,
    Rest,
    Screen,
    SetRow,
    Shape,
    Step,
    Summary,
)

TEMPO = Tempo(1.0, 1.0, 2.0, 1.0)
TOLERANCE = 5.0
WORDS = ("up", "hold", "down", "rest")


def aim(since_s: Floats, target: float = 75.0, tempo: Tempo = TEMPO) -> Floats:
    """Return the aim (percent on the right) `since_s` (n,) after a repetition began; it repeats."""
    t = np.mod(since_s, tempo.cycle_s)
    bend = smooth((t - tempo.rise_s) / max(tempo.top_s, 0.3))
    back = smooth((t - (tempo.cycle_s - tempo.pause_s)) / 0.5)
    return 50.0 + (target - 50.0) * np.where(t < tempo.cycle_s - tempo.pause_s, bend, 1.0 - back)


def path(at_s: float, *, waits: bool = False, mirrored: bool = False, tempo: Tempo = TEMPO, **more: Any) -> Path:
    """Return the path `at_s` after a repetition began; `mirrored`: the left foot is the injured one."""
    now_s = 40.0
    since = np.arange(0.0, 4.81, 0.05)
    middle = aim(since if waits else since + at_s, tempo=tempo)
    begins = np.cumsum([0.0, tempo.rise_s, tempo.top_s, tempo.lowering_s])
    cycles = np.concatenate([begins + tempo.cycle_s * n for n in range(-1, 4)]) - (0.0 if waits else at_s)
    marks = [(float(t), WORDS[n % 4]) for n, t in enumerate(cycles) if t < 4.8]
    under_way = [n for n, (t, _word) in enumerate(marks) if t <= 0.0][-1]
    past = np.arange(-8.0, 0.0, 0.0125)
    was = aim(past + at_s, tempo=tempo) if not waits else aim(np.minimum(past + 5.0, 4.9), tempo=tempo)
    did = was + 2.5 * np.sin(past * 2.1) + np.where(np.abs(past + 4.0) < 0.3, 6.0, 0.0)
    trail = np.append(past, 0.0) + now_s, np.append(was, middle[0]), np.append(did, middle[0] + 1.0)
    times, was, did = trail
    values: dict[str, Any] = {
        "reach_points": 45.0,
        "low": float(middle[0] - TOLERANCE),
        "high": float(middle[0] + TOLERANCE),
        "place": float(did[-1]),
        "inside": True,
        "counts": True,
        "now_s": now_s,
        "trail_time_s": times,
        "trail_place": did,
        "trail_inside": np.abs(did - was) <= TOLERANCE,
        "trail_low": was - TOLERANCE,
        "trail_high": was + TOLERANCE,
        "ahead": Ahead(since, middle - TOLERANCE, middle + TOLERANCE, tuple(marks[under_way:]), waits),
        "heels": Heels(0.82, 0.55, 0.5),
        "beat": 0.9,
        "paved": ((37.6, 39.2),) if waits else ((36.0, 38.0),),
    }
    made = Path(**(values | more))
    return mirror(made) if mirrored else made


def mirror(seen: Path) -> Path:
    """Return the path with left and right changed over."""
    ahead, heels = seen.ahead, seen.heels
    assert ahead is not None and seen.low is not None and seen.high is not None and seen.place is not None
    return replace(
        seen,
        low=100.0 - seen.high,
        high=100.0 - seen.low,
        place=100.0 - seen.place,
        trail_place=100.0 - seen.trail_place,
        trail_low=100.0 - seen.trail_high,
        trail_high=100.0 - seen.trail_low,
        ahead=replace(ahead, low=100.0 - ahead.high, high=100.0 - ahead.low),
        heels=None if heels is None else Heels(heels.right, heels.left, heels.goal),
    )


FIGURES = Figures(
    share="74",
    share_label="on the right foot",
    aim="aim 75, from 70 to 80",
    held="3",
    held_label="repetitions",
    held_unit="",
    held_goal="of 10",
    held_fraction=0.3,
    stones=10,
    holds="1 of 3",
    holds_label="sets",
    holds_done=1,
    holds_asked=3,
    load_kg="53.1 kg",
    load_percent="74 % of body weight",
    load_label="load, right foot",
)


def screen(seen: Path | None, headline: str = "Down slowly on your right foot.", **more: Any) -> Screen:
    """Return a screen of practice around `seen`."""
    values: dict[str, Any] = {
        "step": Step.PRACTISE,
        "headline": headline,
        "state": "in the band",
        "shape": Shape.DISC,
        "injured": Side.RIGHT,
        "figures": FIGURES,
        "path": seen,
        "hint": "Key N ends the set  \u00b7  Key M marks a fault",
        "source": "Virtual scales, virtual person: steady",
        "age_s": 0.01,
    }
    return Screen(**(values | more))


THREE = (
    Figure("repetitions that counted", "10", "", "of 10"),
    Figure("on the right foot, on the way down", "74", "%", "asked: 75"),
    Figure("time on the way down", "2.1", "s", "asked: 2.0"),
)
REST = Rest(
    "Set 1 of 3 is done",
    "0:42",
    0.7,
    THREE,
    ("Height fell by 8 % from the first to the last repetitions.", "2 were not counted: too low."),
)
OVER = Alarm(AlarmKind.OVER, "Less weight on the right foot now.", "26.5 kg, the limit is 20.0 kg")
UNREAD = Alarm(
    AlarmKind.UNREAD,
    "Hold the rail. Take the weight off your right foot.",
    "The load on it cannot be read; the limit is 20.0 kg.",
)
HEADS = ("set", "raises", "share down", "in the band", "time down", "height", "notes")
NOTES = ("", "2 with a hand on the rail", "without the screen; not counted: 2 were too low, 1 was too short")
ROWS = tuple(
    SetRow((f"{n}", f"{11 - n}", f"{75 - n} %", f"{91 - 3 * n} %", "2.1 s", f"{84 - n} mm", NOTES[n - 1]))
    for n in (1, 2, 3)
)

FINDINGS = (
    "70 to 80 % in the lowering: met in sets 1 and 2, undecided in set 3; of this patient: not known yet, 1 session.",
)


def rest_screen(over: bool = False) -> Screen:
    """Return the screen between two sets."""
    rest = replace(REST, left="0:00", left_fraction=0.0, over=True) if over else REST
    headline = "Begin the next set when you are ready." if over else "Rest. Sit down if you like."
    return screen(None, headline, step=Step.REST, rest=rest, state="rest", shape=Shape.RING, key="Next set")


def summary_screen() -> Screen:
    """Return the summary of three sets."""
    time_s = np.arange(0.0, 180.0, 0.1)
    lines = ("3 of 3 sets, 24 repetitions", "Height fell by 8 % over the sets.", "Kept in sessions/2026-11-24-101500")
    summary = Summary(
        (), 0.0, lines, time_s, aim(time_s), (70.0, 80.0), (aim(time_s) - 5.0, aim(time_s) + 5.0), HEADS, ROWS, FINDINGS
    )
    return screen(
        None,
        "Well done. Step off when ready.",
        step=Step.DONE,
        summary=summary,
        shape=Shape.NONE,
        state="done",
        key="New session",
    )
