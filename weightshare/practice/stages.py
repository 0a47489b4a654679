"""Choosing a programme and one of its stages: what is offered, what is shown of it, and what comes of it. No Qt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from weightshare.errors import OptionError, check_range
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.asked import FREES, LOCK_WORDS, say_stage
from weightshare.practice.message import retell
from weightshare.practice.option import check_practised
from weightshare.programme.draft import can_draft
from weightshare.programme.listing import CAUTION, say_criterion
from weightshare.programme.prescription import goal_of, prescribe
from weightshare.programme.reading import Mistake, ProgrammeError, read_programme
from weightshare.programme.shelf import READY, Kept, find_programme, find_text
from weightshare.programme.stage import Programme, Stage
from weightshare.programme.writing import free_stage
from weightshare.records.assignment import Assignment
from weightshare.records.whole import FOLDER_MODE, write_whole
from weightshare.task import check_together
from weightshare.tongue import mark, plural, say

LOCKED = mark("locked")
NEEDS_WEIGHT = mark("Give the body weight in kg: with support no scale can weigh anybody.")
IS_READY_MADE = mark(
    "This programme is ready-made and stays as it is. Copy it (Alt+C), then free the stage in your copy."
)
TO_COME = mark("{name} is freed on {day}, which is still to come: put the day right in the programme.")
MOST_TOLD = 6
"""So many mistakes of a file are told; there is no room for more."""


class Stages:
    """The programmes that there are, and the one that is shown with its stages.

    `folder`: where copies are kept; what lies there is offered beside the ready-made ones.
    """

    def __init__(self, folder: Path, place: str = "", stage: str = "") -> None:
        self._folder = folder
        self.trouble = ""
        """Why a programme cannot be shown, in words."""
        self._mistakes: tuple[Mistake, ...] = ()
        self.kept: Kept | None = None
        self.place, self.text = "", ""
        """Of what was opened last, also where it has mistakes; no text where it cannot be read at all."""
        self.row = 0
        self.places = self._find_places(place)
        self.open(place or READY[0])
        if self.kept is not None and (found := self.kept.programme.find(stage)) is not None:
            self.row = self.kept.programme.stages.index(found)

    def _find_places(self, also: str) -> tuple[str, ...]:
        own = [str(path) for path in sorted(self._folder.glob("*.toml"))]
        more = [also] if also and also not in READY and also not in own else []
        return (*READY, *own, *more)

    def open(self, place: str) -> None:
        """Show the programme at `place`; what is wrong with it stands in `trouble`."""
        self.kept, self.row, self.trouble, self._mistakes = None, 0, "", ()
        self.place, self.text = place, ""
        try:
            self.text = find_text(place)
            self.kept = Kept(place, self.text, read_programme(self.text, place))
        except ProgrammeError as error:
            self.trouble, self._mistakes = str(error), error.mistakes
        else:
            self.places = self._find_places(place)

    @property
    def stages(self) -> tuple[Stage, ...]:
        """The stages of the programme that is shown."""
        return () if self.kept is None else self.kept.programme.stages

    @property
    def stage(self) -> Stage | None:
        """The stage that is shown; None where there is none."""
        return self.stages[self.row] if 0 <= self.row < len(self.stages) else None

    @property
    def can_change(self) -> bool:
        """Whether it can be changed here: also with mistakes, but only where it is TOML, and has stages."""
        return self.kept is not None or can_draft(self.text)

    @property
    def is_own(self) -> bool:
        """Whether the programme is a file, which can be changed."""
        return self.kept is not None and self.kept.place not in READY

    def rows(self) -> list[str]:
        """Return the stages, one line each, with what is locked."""
        return [
            f"{number}  {say(stage.name)}{f'  ({say(LOCKED)})' if stage.shut else ''}"
            for number, stage in enumerate(self.stages, start=1)
        ]

    def details(self, injured: Side) -> str:
        """Return what the stage that is shown asks of somebody whose `injured` side it is, and what locks it."""
        stage, kept = self.stage, self.kept
        if stage is None or kept is None:
            return "\n\n".join(self._told_mistakes()) or retell(self.trouble)
        return "\n\n".join(_paragraphs(kept, stage, injured))

    def _told_mistakes(self) -> Iterator[str]:
        """Yield the mistakes of the file that is shown, as many as there is room for, and where each is put right."""
        every = self._mistakes
        if not every:
            return
        count = len(every)
        yield plural(
            "{n} mistake: this file cannot be practised by.", "{n} mistakes: this file cannot be practised by.", count
        )
        yield "\n".join(map(_say_mistake, every[:MOST_TOLD]))
        if count > MOST_TOLD:
            yield plural("\u2026 and {n} more.", "\u2026 and {n} more.", count - MOST_TOLD)
        if self.can_change:
            yield say("Change the stages (Alt+G): each stands beside its field there.")

    def needs_weight(self) -> bool:
        """Whether the stage asks for a part of a body weight that no scale can tell."""
        stage = self.stage
        asked = () if stage is None or not stage.supported else (stage.load, stage.ceiling)
        return any(load is not None and load.percent is not None for load in asked)

    def take(self, injured: Side, weight: str = "") -> Assignment:
        """Return what a session of the stage is measured against. `weight`: the body weight in kg, as it was typed.

        Raises OptionError where the stage is locked, or the weight is missing or none; ProgrammeError without a stage.
        """
        stage, kept = self.stage, self.kept
        if stage is None or kept is None:
            raise ProgrammeError(self.trouble or say("no stage is chosen"))
        if stage.shut:
            raise OptionError(
                say(
                    "{name} is locked: {locks}. {frees}", name=say(stage.name), locks=say_locks(stage), frees=say(FREES)
                )
            )
        if not stage.is_freed_by(date.today()):
            raise OptionError(say(TO_COME, name=say(stage.name), day=stage.freed_on))
        settings = prescribe(stage, injured)
        if self.needs_weight():
            settings = replace(settings, body_weight_N=_weight_N(weight))
        return Assignment(
            check_practised(check_together(settings)), goal_of(stage), kept.prescription(stage), kept.place
        )

    def free(self, who: str, on: date) -> None:
        """Free the stage that is shown, in its file: `who` says so. Raises ProgrammeError where that cannot be."""
        stage, kept, row = self.stage, self.kept, self.row
        if stage is None or kept is None or not stage.shut:
            raise ProgrammeError(say("this stage is not locked"))
        if not self.is_own:
            raise ProgrammeError(say(IS_READY_MADE))
        if not who.strip():
            raise ProgrammeError(say("Say who frees it: name or initials."))
        self._write(Path(kept.place), free_stage(kept, stage.key, (), by=who.strip(), on=on))
        self.open(kept.place)
        self.row = row

    def copy(self) -> str:
        """Copy the programme into the own folder under a name that is free, show it there, and return its place.

        Raises ProgrammeError where it cannot be written.
        """
        kept, row = self.kept, self.row
        if kept is None:
            raise ProgrammeError(self.trouble)
        place = self.free_place(Path(kept.place).stem)
        self._write(place, kept.text)
        self.open(str(place))
        self.row = row
        return str(place)

    def keep(self, text: str) -> str:
        """Keep `text` as a new file beside the programme that is shown, show it, and return its place.

        Raises ProgrammeError where it has a mistake, is of the version that there is, or cannot be written.
        """
        row, place = self.row, self.free_place(Path(self.place).stem)
        if read_programme(text, place.name).version in self.versions() and text != self.text:
            raise ProgrammeError(say("Give it another version: every session keeps the version that it was done by."))
        self._write(place, text)
        self.open(str(place))
        self.row = min(row, len(self.stages) - 1)
        return str(place)

    def versions(self) -> frozenset[str]:
        """Return the versions that there are of the programme that is shown: files that call it the same."""
        name = "" if self.kept is None else self.kept.programme.name
        return frozenset(one.version for one in self._readable() if one.name == name)

    def _readable(self) -> Iterator[Programme]:
        for place in self.places:
            try:
                yield find_programme(place).programme
            except ProgrammeError:
                continue

    def free_place(self, stem: str) -> Path:
        """Return a file in the own folder that is not there yet, called after `stem`."""
        names = [stem, *(f"{stem}-{number}" for number in range(2, 1000))]
        return next(path for path in (self._folder / f"{name}.toml" for name in names) if not path.exists())

    def _write(self, path: Path, text: str) -> None:
        try:
            path.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
            write_whole(path, text.encode())
        except OSError as error:
            raise ProgrammeError(
                say("{path}: cannot be written ({why})", path=path, why=error.strerror or error)
            ) from error


def _say_mistake(one: Mistake) -> str:
    return say("Line {line}, {where}: {why}", line=one.line, where=one.where, why=retell(one.words))


def say_locks(stage: Stage) -> str:
    """Return why `stage` is still locked, in words."""
    return say(", and ").join(say(LOCK_WORDS[lock]) for lock in stage.shut)


def _paragraphs(kept: Kept, stage: Stage, injured: Side) -> Iterator[str]:
    if stage.shut:
        yield say("Locked: {locks}. {frees}", locks=say_locks(stage), frees=say(FREES))
    elif stage.freed:
        yield say("Freed by {freed_by} on {freed_on}.", freed_by=stage.freed_by, freed_on=stage.freed_on)
    yield say_stage(stage, injured)
    if stage.note:
        yield say(stage.note)
    limit = kept.programme.pain_limit_of(stage)
    if limit is not None:
        yield say("Pain: {limit} of 10 at most.", limit=limit)
    if stage.criteria:
        head = (
            say("Before the next stage, on {days} days:", days=stage.days)
            if stage.days > 1
            else say("Before the next stage:")
        )
        yield f"{head}\n" + "\n".join(f"\u2013  {retell(say_criterion(one, stage))}" for one in stage.criteria)
    yield retell(CAUTION)


def _weight_N(words: str) -> float:
    said = words.strip().removesuffix("kg").strip().replace(",", ".")
    try:
        weight_N = float(said) * STANDARD_GRAVITY
        check_range("--body-weight-N", weight_N, 50.0, 4000.0, "N")
    except (ValueError, OptionError) as error:
        raise OptionError(say(NEEDS_WEIGHT)) from error
    return weight_N


def names_of(places: Sequence[str]) -> list[str]:
    """Return how the places of programmes are offered: the ready-made by name, files by theirs."""
    return [place if place in READY else Path(place).name for place in places]
