"""What is wrong with a setting, in the words of the window: an error names options, a person sees fields."""

from __future__ import annotations

import re

from weightshare.window.choice import EXERCISES

FIELDS = {
    "--target": "Target",
    "--tolerance": "\u00b1 points",
    "--tempo": "Tempo",
    "--hold-goal": "Hold goal",
    "--holds": "Number of holds",
    "--sets": "Sets",
    "--repetitions": "Repetitions",
    "--source": "Source",
    "--person": "Virtual person",
    "--stage": "Exercise",
    "--ceiling": "Ceiling of load",
    "--grace": "Grace",
    "--one-sided": "Band",
    "--working": "Working leg",
    "--surface": "Standing on",
    "--reference-height-mm": "Full raise",
    "--basis": "Repetitions from",
    "--rest": "Rest between sets",
    "--blind-sets": "Sets without help",
    "--added-weight-N": "Added weight",
}
"""What the window calls the field that an option belongs to."""
SAID_OTHERWISE = {
    "--one-sided goes": "A band without upper edge goes",
    "--basis paced needs --stage and --tempo": "Repetitions from the metronome need a tempo",
    "--basis force": "Repetitions from forces alone",
    "take height or paced": "take heel height or the metronome",
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
    for theirs, ours in SAID_OTHERWISE.items():
        said = said.replace(theirs, ours)
    said = _STAGES.sub(lambda found: " or ".join(f"\u201c{_WORDS.get(n, n)}\u201d" for n in found.groups() if n), said)
    said = re.sub(r"(?<=[\d%]) (?=--)", ", ", said)
    return _OPTION.sub(lambda found: FIELDS.get(found[0], found[0].lstrip("-").replace("-", " ")), said)


def at_hand(said: str) -> str:
    """Return `said` with the window's own way to calibrate in place of the command."""
    return _COMMAND.sub("Calibrate, below", said)


def beyond(name: str, value: float, limits: tuple[float, float], unit: str) -> str:
    """Return that `value` is beyond the `limits` of the field `name`."""
    return f"{name} {value:g}{unit}: it may be {limits[0]:g} to {limits[1]:g}{unit}"
