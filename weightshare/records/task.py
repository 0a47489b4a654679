"""What was done in a session, in words: tasks that differ are never told alike."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from weightshare.exercise import Exercise
from weightshare.model import STANDARD_GRAVITY

Words = tuple[str, ...]
_NONE = "None"
_PLACES, _BAND = 9, 3
"""What every task has, and what holds have after it (`records.repeat.task_of`)."""
_SUPPORT = {"True": "with support", "False": "without support", _NONE: "support not known"}
_BASES = {"height": "by the heel's height", "force": "by the forces", "paced": "by the metronome"}


def name_tasks(tasks: Iterable[Sequence[object]]) -> list[Words]:
    """Return for each of `tasks` what was done, phrase by phrase: its exercise and target; and of those that would be
    told alike, everything in which they differ.

    A task is what `records.repeat` has, its parts as such or as text.
    """
    known = [tuple(map(str, task)) for task in tasks]
    alike: dict[str, set[Words]] = defaultdict(set)
    for task in known:
        alike[_aim(task)].add(_details(task))
    return [(_aim(task), *_differing(_details(task), alike[_aim(task)])) for task in known]


def _differing(own: Words, alike: set[Words]) -> Iterator[str]:
    """Yield those phrases of `own` in which not all of `alike` are the same."""
    for words, others in zip(own, zip(*alike, strict=True), strict=True):
        if words and len(set(others)) > 1:
            yield words


def _aim(task: Sequence[str]) -> str:
    exercise, target, injured = task[:3]
    return exercise if target == _NONE else f"{exercise}, {float(target):g} % on the {injured} side"


def _details(task: Sequence[str]) -> Words:
    """Return all else, as many phrases for each task; empty: there is no such thing, or it was not told."""
    exercise = Exercise(task[0])
    _exercise, _target, _injured, working, surface, tempo, added, supported, basis = task[:_PLACES]
    band = ("", "", "") if exercise.is_repeated else task[_PLACES : _PLACES + _BAND]
    # sessions that an earlier version took in do not tell how the knee was held, nor for how long
    knee, goal = (*task[_PLACES + (0 if exercise.is_repeated else _BAND) :], _NONE, _NONE)[:2]
    tolerance, one_sided, grace = band
    return (
        f"{working} leg works" if working not in (_NONE, "") else "",
        f"on the {surface}",
        "no tempo" if tempo == _NONE else f"tempo {tempo}",
        f"{float(added) / STANDARD_GRAVITY:.1f} kg added" if float(added) else "no weight added",
        _SUPPORT.get(supported, ""),
        _BASES.get(basis, ""),
        f"within {float(tolerance):g} points" if tolerance not in ("", _NONE) else "",
        "or more" if one_sided == "True" else "",
        f"grace {float(grace):g} s" if grace not in ("", _NONE) else "",
        f"knee {knee}" if knee != _NONE else "knee not told",
        f"held for {float(goal):g} s" if goal != _NONE else "",
    )
