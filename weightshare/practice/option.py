"""What a practice session is asked to be."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from weightshare.errors import OptionError, check_range
from weightshare.scales.source import DEFAULT_SOURCE
from weightshare.task import Goal, Settings

LONGEST_S = 86_400.0


@dataclass(frozen=True, slots=True)
class PractiseOptions:
    """One session's options. Raises OptionError, which names the option, where one cannot be.

    `calibrations` are files given by hand. `seconds`: stop after so much sample time; None: when told to. `save`: the
    folder under which the session's own is made (None: the user's own place). `record`: whether it is saved at all.
    `unattended`: nobody presses a key; the first set of repetitions begins as soon as someone was weighed.
    """

    settings: Settings
    goal: Goal = field(default_factory=Goal)
    sources: tuple[str, ...] = (DEFAULT_SOURCE,)
    calibrations: tuple[Path, ...] = ()
    seconds: float | None = None
    save: Path | None = None
    record: bool = True
    unattended: bool = False

    def __post_init__(self) -> None:
        check_range("--seconds", self.seconds, 0.1, LONGEST_S, "s")
        if len(self.sources) != 1:
            raise OptionError("--source: this version practises on one scale with both sides; give --source once")
        if len(self.calibrations) > len(self.sources):
            raise OptionError("--calibration: give one file, that of the scale")
