"""What a session begins with: the transports of its sources, what is played back, and who judges the scales."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from weightshare.practice.judge import Chosen, Judge
from weightshare.practice.option import PractiseOptions
from weightshare.records.session import Played, find_played
from weightshare.scales.source import FileSource, open_sources, parse_source
from weightshare.scales.transport import Transport


@dataclass(frozen=True, slots=True)
class Entrance:
    """The transports of one session, not yet opened; `played` where they play a record back."""

    transports: tuple[Transport, ...]
    played: Played | None

    def make_judge(self, options: PractiseOptions, accepted: Callable[[Chosen], None], today: date) -> Judge:
        """Return who judges the scales. Raises CalibrationError where a given file cannot be read."""
        names, played = [one.name for one in self.transports], self.played
        named = list(options.sources) if len(options.sources) == len(names) else names
        sides = options.sides or (None if played is None else played.sides)
        judge = Judge(named, options.calibrations, accepted, today, sides)
        judge.add(() if played is None else played.calibrations)
        return judge


def find_entrance(options: PractiseOptions, given: Transport | Sequence[Transport] | None) -> Entrance:
    """Return the entrance of a session; `given` transports, one or two, stand in for the sources' own.

    Raises WeightshareError where a source cannot be used.
    """
    source = parse_source(options.sources[0])
    played = find_played(source.path) if isinstance(source, FileSource) else None
    sources = options.sources if played is None else (f"file:{played.path}",)
    own = (given,) if isinstance(given, Transport) else given
    return Entrance(tuple(own or open_sources(sources, options.settings, options.goal)), played)
