"""What follows `rig:` in a source: a person's name and wishes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from weightshare.errors import OptionError, check_range
from weightshare.exercise import Exercise, Surface, parse_tempo
from weightshare.model import Side
from weightshare.scales.rig.bench import BENCH, BENCH_PROFILE
from weightshare.scales.rig.carrier import find_carrier
from weightshare.scales.rig.catalog import find_fault, find_person
from weightshare.scales.rig.heel import HeelBuild
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Cast
from weightshare.task import Goal, Settings

WISHES = {
    "person": "steady",
    "seed": "1",
    "faults": "clean",
    "rate": "100",
    "truth": "",
    "stage": "",
    "tempo": "",
    "repetitions": "",
    "sets": "",
    "rest": "",
    "surface": "",
    "working": "",
    "target": "",
    "height": "",
    "heels": "fitted",
    "placement": "0",
    "balance": "",
    "cells": "plain",
    "speed": "1",
    "separate": "no",
    "link": "direct",
}
"""Each wish, and what holds without it; where that is empty, what the session asks for."""
OF_SCALE = ("seed", "faults", "rate", "heels", "placement", "cells", "speed", "separate", "link")
"""Wishes that are of the scale, whoever stands on it."""
SLOWEST_HZ, FASTEST_HZ = 10.0, 1000.0
FARTHEST_MM = 150.0
HEELS = ("fitted", "none")
CELLS = ("plain", "hidden")
FASTEST = 50.0
"""So many times as fast as real time a bench may run, where nobody's reactions matter."""
SEPARATE = ("no", "yes")
ASK = "ask"
"""What `balance` may be: the virtual person is asked to shift the load before practice, as a real one is."""


def parse_spec(spec: str) -> tuple[str, dict[str, str]]:
    """Return the person's name, and every wish with its value, of what follows `rig:`. Raises OptionError."""
    wishes = dict(WISHES)
    for position, part in enumerate(spec.split(",") if spec else []):
        key, equals, value = part.strip().partition("=")
        if not equals and position == 0:
            key, value = "person", key
        elif key not in WISHES or not value:
            raise OptionError(f"--source rig:{spec}: {part!r} is no wish; there are {', '.join(WISHES)}, as in seed=3")
        wishes[key] = value
    if not wishes["seed"].isdecimal():
        raise OptionError(f"--source rig:{spec}: seed={wishes['seed']} is no whole number from 0 on")
    if wishes["balance"] not in ("", ASK):
        raise OptionError(f"--source rig:{spec}: balance={wishes['balance']} is not known; there is {ASK}")
    if wishes["cells"] not in CELLS:
        raise OptionError(f"--source rig:{spec}: cells={wishes['cells']}: there are {' and '.join(CELLS)}")
    if wishes["separate"] not in SEPARATE:
        raise OptionError(f"--source rig:{spec}: separate={wishes['separate']}: there are {' and '.join(SEPARATE)}")
    if wishes["person"] == BENCH and is_separate(wishes):
        raise OptionError(f"--source rig:{spec}: the bench is for one scale at a time; leave out separate=yes")
    find_carrier(wishes["link"])
    check_range(f"--source rig:{spec}: speed", _number(spec, wishes, "speed"), 1.0, FASTEST, "times real time")
    if wishes["person"] != BENCH and float(wishes["speed"]) != 1.0:
        raise OptionError(f"--source rig:{spec}: speed is for the bench alone: rig:bench,speed=20")
    if wishes["person"] == BENCH and wishes["truth"]:
        raise OptionError(f"--source rig:{spec}: nobody is on the bench, so there is no truth of a visit to be written")
    check_range(f"--source rig:{spec}: rate", _number(spec, wishes, "rate"), SLOWEST_HZ, FASTEST_HZ, "Hz")
    return wishes["person"], wishes


def is_separate(wishes: dict[str, str]) -> bool:
    """Return whether two separate scales are wished for."""
    return wishes["separate"] == "yes"


def on_bench(spec: str) -> str:
    """Return what follows `rig:`, but with the bench in place of a person: hands, where nobody stands.

    What is of the scale stays, what is of a visit goes; so the bench has the very scale that the person stands on.
    Raises OptionError for a person whom nobody knows.
    """
    person, kept = WISHES["person"], []
    for position, part in enumerate(spec.split(",") if spec else []):
        key, equals, value = part.strip().partition("=")
        if key == "person" or (not equals and position == 0):
            person = value if equals else key
        elif key in OF_SCALE or key not in WISHES:
            # a wish that is not known is refused where the rest is
            kept.append(part.strip())
    if person == BENCH:
        return spec
    find_person(person)
    return ",".join([BENCH, *kept])


def make_cast(spec: str, settings: Settings, goal: Goal, patience_s: float) -> tuple[Cast, dict[str, str]]:
    """Return who stands there and what is asked, by a session's settings and goal and then by the wishes; and these.

    Raises OptionError for a name, a wish or a value that there is not.
    """
    person, wishes = parse_spec(spec)
    task = Task.of(*_wish(spec, wishes, settings, goal))
    cast = Cast(
        BENCH_PROFILE if person == BENCH else find_person(person),
        find_fault(wishes["faults"], separate=is_separate(wishes)),
        task,
        int(wishes["seed"]),
        make_heels(wishes["heels"], _number(spec, wishes, "placement"), f"--source rig:{spec}: "),
        patience_s,
        wishes["cells"] == "hidden",
    )
    return cast, wishes


def make_heels(heels: str, placement_mm: float, where: str = "") -> HeelBuild:
    """Return the height sensors that are asked for; `where` opens the words of a refusal. Raises OptionError."""
    if heels not in HEELS:
        raise OptionError(f"{where}heels {heels}: there are {' and '.join(HEELS)}")
    check_range(f"{where}placement", placement_mm, -FARTHEST_MM, FARTHEST_MM, "mm forward of the heel")
    return HeelBuild(heels == "fitted", placement_mm)


def _wish(spec: str, wishes: dict[str, str], settings: Settings, goal: Goal) -> tuple[Settings, Goal]:
    wished: dict[str, Any] = {
        "exercise": _choice(spec, wishes, "stage", Exercise),
        "tempo": parse_tempo(wishes["tempo"]) if wishes["tempo"] else None,
        "surface": _choice(spec, wishes, "surface", Surface),
        "working": _choice(spec, wishes, "working", Side),
        "target_percent": _number(spec, wishes, "target"),
        "reference_height_mm": _number(spec, wishes, "height"),
    }
    asked: dict[str, Any] = {
        "sets": _whole(spec, wishes, "sets"),
        "repetitions": _whole(spec, wishes, "repetitions"),
        "rest_s": _number(spec, wishes, "rest"),
    }
    return replace(settings, **_given(wished)), replace(goal, **_given(asked))


def _given(values: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in values.items() if value is not None}


def _number(spec: str, wishes: dict[str, str], key: str) -> Any:
    return _read(spec, wishes, key, float, "number")


def _whole(spec: str, wishes: dict[str, str], key: str) -> Any:
    return _read(spec, wishes, key, int, "whole number")


def _read(spec: str, wishes: dict[str, str], key: str, kind: Callable[[str], float], words: str) -> Any:
    """Return a wish's value as a number; None where nothing was wished."""
    try:
        return kind(wishes[key]) if wishes[key] else None
    except ValueError:
        raise OptionError(f"--source rig:{spec}: {key}={wishes[key]} is no {words}") from None


def _choice(spec: str, wishes: dict[str, str], key: str, kind: type[Exercise] | type[Surface] | type[Side]) -> Any:
    """Return the member of `kind` that was wished; None where nothing was."""
    try:
        return kind(wishes[key]) if wishes[key] else None
    except ValueError:
        there_are = ", ".join(kind)
        raise OptionError(f"--source rig:{spec}: {key}={wishes[key]} is not known; there are {there_are}") from None
