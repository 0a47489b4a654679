"""Where programmes are found: the ready-made ones by their names, others by their files."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from importlib.resources import files
from pathlib import Path

from weightshare.programme.prescription import Prescription
from weightshare.programme.reading import ProgrammeError, read_programme, read_text
from weightshare.programme.stage import Programme, Source, Stage

READY = ("achilles", "partial-load", "even-load")
"""The names of the ready-made programmes, in the order in which they are listed."""
NOT_KEPT = "where it comes from was not kept with the session"


@dataclass(frozen=True, slots=True)
class Kept:
    """A programme with where it came from (a name, or a file), its text, and the SHA-256 of its bytes."""

    place: str
    text: str
    programme: Programme

    @property
    def sha256(self) -> str:
        """The SHA-256 of its text as UTF-8, 64 hexadecimal digits: that of the file, where it begins without a mark."""
        return hashlib.sha256(self.text.encode()).hexdigest()

    def find(self, wanted: str) -> Stage:
        """Return the stage whose key or name is `wanted`. Raises ProgrammeError, which names those that there are."""
        stage = self.programme.find(wanted)
        if stage is None:
            keys = ", ".join(one.key for one in self.programme.stages)
            raise ProgrammeError(f'{self.place}: there is no stage "{wanted}"; its stages are {keys}')
        return stage

    def sources(self, stage: Stage) -> dict[str, str]:
        """Return where the numbers of each criterion of `stage` come from, by its measure."""
        measures = (str(one.measure) for one in stage.criteria)
        return {measure: self.programme.source_of(stage, measure) for measure in measures}

    def prescription(self, stage: Stage, changed: tuple[str, ...] = ()) -> Prescription:
        """Return what a session of `stage` keeps of it; `changed`: the options that were given by hand beside it.

        The stage in it says of every criterion where it comes from, for whoever has the session and not the programme.
        """
        programme = self.programme
        place, limit = programme.stages.index(stage), programme.pain_limit_of(stage)
        before = programme.stages[place - 1] if place else None
        head = programme.name, programme.version, self.sha256
        own = {one.key: one.words for one in stage.sources} | self.sources(stage)
        told = replace(stage, sources=tuple(Source(key, words) for key, words in own.items()))
        return Prescription(*head, told, limit, changed, programme.after(stage), before)


def ready_text(name: str) -> str:
    """Return the file of the ready-made programme `name`."""
    return (files("weightshare.programme") / "ready" / f"{name}.toml").read_bytes().decode("utf-8")


def find_text(place: str) -> str:
    """Return the text of a ready-made programme or of a file. Raises ProgrammeError where there is none."""
    if place in READY:
        return ready_text(place)
    if not Path(place).exists():
        raise ProgrammeError(f"{place}: there is no such file, and no ready-made programme but {', '.join(READY)}")
    return read_text(Path(place))


def find_programme(place: str) -> Kept:
    """Return the programme that is ready-made under the name `place`, or stands in that file. Raises ProgrammeError."""
    text = find_text(place)
    return Kept(place, text, read_programme(text, place))


def sources_of(prescription: Prescription, place: str = "") -> dict[str, str]:
    """Return where the numbers of each criterion come from, by its measure, as far as that is known.

    What the session does not say itself, the same programme says where it is found: under `place`, a name or a file, or
    among the ready-made ones.
    """
    stage = prescription.stage
    measures = [str(one.measure) for one in stage.criteria]
    said = {one.key: one.words for one in stage.sources}
    if not said.keys() >= set(measures):
        found = next((kept for kept in _found(place) if kept.sha256 == prescription.sha256), None)
        said = (found.sources(stage) if found is not None else {}) | said
    return {measure: said.get(measure, NOT_KEPT) for measure in measures}


def _found(place: str) -> Iterator[Kept]:
    """Yield the programme under `place`, where there is one, then the ready-made ones."""
    for each in filter(None, dict.fromkeys((place, *READY))):
        with suppress(ProgrammeError):
            yield find_programme(each)
