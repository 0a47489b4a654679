"""What is wrong with a setting, in the words of the window: an error names options, a person sees fields."""

from __future__ import annotations

import re

from weightshare.practice.message import retell
from weightshare.tongue import mark, say
from weightshare.window.choice import EXERCISES

FIELDS = {
    "--target": mark("Target"),
    "--tolerance": mark("\u00b1 points"),
    "--tempo": mark("Tempo"),
    "--hold-goal": mark("Hold goal"),
    "--holds": mark("Number of holds"),
    "--sets": mark("Sets"),
    "--repetitions": mark("Repetitions"),
    "--source": mark("Source"),
    "--person": mark("Virtual person"),
    "--stage": mark("Exercise"),
    "--ceiling": mark("Ceiling of load"),
    "--grace": mark("Grace"),
    "--one-sided": mark("Band"),
    "--working": mark("Working leg"),
    "--surface": mark("Standing on"),
    "--reference-height-mm": mark("Full raise"),
    "--basis": mark("Repetitions from"),
    "--rest": mark("Rest between sets"),
    "--blind-sets": mark("Sets without help"),
    "--added-weight-N": mark("Added weight"),
}
"""What the window calls the field that an option belongs to."""
SAID_OTHERWISE = {
    "--one-sided goes": mark("A band without upper edge goes"),
    "--basis paced needs --stage and --tempo": mark("Repetitions from the metronome need a tempo"),
    "--basis force": mark("Repetitions from forces alone"),
    "take height or paced": mark("take heel height or the metronome"),
}
_OPTION = re.compile(r"--[A-Za-z][A-Za-z-]*")
_COMMAND = re.compile(r"`weightshare calibrate run[^`]*`( \(your masses, in kg\))?(, or give --calibration FILE)?")
_STAGES = re.compile(r"--stage ([a-z-]+)(?: or ([a-z-]+))?")
_WORDS = {str(exercise): words for exercise, words in EXERCISES.items()}


def options_of(said: str) -> list[str]:
    """Return the options that `said` names, in its order."""
    return _OPTION.findall(said)


def plain(said: str) -> str:
    """Return `said` with the window's own names in place of options."""
    said = retell(said)
    for theirs, ours in SAID_OTHERWISE.items():
        said = said.replace(theirs, say(ours))
    said = _STAGES.sub(
        lambda found: say(" or ").join(f"\u201c{say(_WORDS.get(n, n))}\u201d" for n in found.groups() if n), said
    )
    said = re.sub(r"(?<=[\d%]) (?=--)", ", ", said)
    return _OPTION.sub(lambda found: say(FIELDS.get(found[0], found[0].lstrip("-").replace("-", " "))), said)


def at_hand(said: str) -> str:
    """Return `said` with the window's own way to calibrate in place of the command."""
    return _COMMAND.sub(say("Calibrate, below"), said)


def again() -> str:
    """Return what trying again is called, with its key."""
    return say("Try again (F&5)")


def beyond(name: str, value: float, limits: tuple[float, float], unit: str) -> str:
    """Return that `value` is beyond the `limits` of the field `name`."""
    return say(
        "{name} {value:g}{unit}: it may be {low:g} to {high:g}{unit}",
        name=say(name),
        value=value,
        unit=unit,
        low=limits[0],
        high=limits[1],
    )
