"""From a programme's file to its frozen value, or to all of its mistakes at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from weightshare.errors import InputError
from weightshare.exercise import Exercise
from weightshare.programme.coherence import find_clashes
from weightshare.programme.criterion import ALLOWED, Criterion, Measure, parse_criterion
from weightshare.programme.key import PROGRAMME_KEYS, SCHEMA, STAGE_KEYS, Key
from weightshare.programme.kind import plain, shown
from weightshare.programme.line import Place, line_of
from weightshare.programme.salvage import STAGES, Content, read_content
from weightshare.programme.stage import Programme, Source, Stage

LARGEST_BYTES = 1 << 20


class ProgrammeError(InputError):
    """A programme cannot be used; the message names the file, the line and the key. `mistakes`: all that there are."""

    def __init__(self, words: str, mistakes: tuple[Mistake, ...] = ()) -> None:
        super().__init__(words)
        self.mistakes = mistakes


@dataclass(frozen=True, slots=True, order=True)
class Mistake:
    """One mistake: its line, from 1 on, the key, and what is allowed, in words."""

    line: int
    where: str
    words: str
    place: Place = field(default=(), compare=False)
    """Where in the file's tables it is."""

    def __str__(self) -> str:
        return f"line {self.line}: {self.where}: {self.words}"


@dataclass(frozen=True, slots=True)
class Sketch:
    """A stage as far as it could be read: what could not, the keys `unread`, is as if it were not said."""

    stage: Stage
    unread: frozenset[str]


@dataclass(frozen=True, slots=True)
class Examined:
    """What a text holds: the programme, None where there are mistakes, all of those, and its stages as far as read."""

    programme: Programme | None
    mistakes: tuple[Mistake, ...]
    sketches: tuple[Sketch, ...] = ()


class _Reader:
    """Reads tables and gathers mistakes instead of stopping at the first."""

    def __init__(self, content: Content) -> None:
        self.mistakes: list[Mistake] = []
        self._content = content

    def tell(self, place: Place, words: str) -> None:
        """Note a mistake in what stands at `place`."""
        self.tell_line(line_of(place, self._content.lines), place, words)

    def tell_line(self, line: int, place: Place, words: str) -> None:
        """Note a mistake in the line `line`, where `place` is."""
        self.mistakes.append(Mistake(line, self._where(place), words, place))

    def _where(self, place: Place) -> str:
        if len(place) < 2 or place[0] != STAGES:
            return ".".join(plain(str(part)) for part in place) or "this line"
        tables, number = self._content.values.get(STAGES), int(place[1])
        table = tables[number] if isinstance(tables, list) and number < len(tables) else None
        told = table.get("key") if isinstance(table, dict) else None
        stage = f"stage {number + 1}{f' ({plain(told)})' if isinstance(told, str) else ''}"
        key = ".".join(plain(str(part)) for part in place[2:])
        return f"{stage}, {key}" if key else stage

    def read_keys(self, table: dict[str, Any], place: Place, keys: Sequence[Key]) -> dict[str, Any]:
        """Return the values of those keys that are there and sound."""
        values: dict[str, Any] = {}
        for key in keys:
            if key.name not in table:
                if key.needed:
                    self.tell((*place, key.name), f"is missing: write {key.kind.allowed}")
                continue
            try:
                values[key.name] = key.kind.read(table[key.name])
            except ValueError as error:
                self.tell((*place, key.name), str(error))
        return values

    def tell_unknown(self, table: dict[str, Any], place: Place, known: Sequence[str]) -> set[str]:
        """Note each key that is none, with the one that was probably meant; return those."""
        meant = set()
        for name in table:
            if name not in known:
                near = get_close_matches(name, known, n=1)
                meant |= set(near) - set(table)
                said = f"did you mean {near[0]}?" if near else f"the keys are {', '.join(known)}"
                self.tell((*place, name), f"is no key; {said}")
        return meant


def check_text(text: str) -> tuple[Programme | None, tuple[Mistake, ...]]:
    """Return the programme that `text` holds, or None and all of its mistakes in the order of their lines."""
    found = examine(text)
    return found.programme, found.mistakes


def examine(text: str) -> Examined:
    """Return the programme that `text` holds, or all of its mistakes in the order of their lines."""
    content = read_content(text)
    reader = _Reader(content)
    for slip in content.slips:
        reader.tell_line(slip.line, slip.place, slip.words)
    values, sketches = _read_programme(content.values, reader)
    if reader.mistakes:
        return Examined(None, tuple(sorted(reader.mistakes)), sketches)
    return Examined(Programme(stages=tuple(one.stage for one in sketches), **values), (), sketches)


def _read_programme(content: dict[str, Any], reader: _Reader) -> tuple[dict[str, Any], tuple[Sketch, ...]]:
    if content.get("schema") != SCHEMA:
        reader.tell(("schema",), f'is missing or another: write schema = "{SCHEMA}"')
    known = ["schema", *(key.name for key in PROGRAMME_KEYS), "sources", STAGES]
    meant = reader.tell_unknown(content, (), known)
    values = reader.read_keys(content, (), [key for key in PROGRAMME_KEYS if key.name not in meant])
    names = [key.name for key in (*PROGRAMME_KEYS, *STAGE_KEYS)] + list(Measure)
    values["sources"] = _read_sources(content.get("sources", {}), ("sources",), names, reader)
    tables = content.get(STAGES, [])
    if not isinstance(tables, list) or not tables or not all(isinstance(one, dict) for one in tables):
        if STAGES not in meant:
            there = "there are none" if STAGES not in content else "this is no list of stages"
            reader.tell((STAGES,), f"{there}: each begins with a line [[stages]]")
        return values, ()
    sketches = tuple(_read_stage(table, number, reader) for number, table in enumerate(tables))
    _tell_doubles(tables, reader)
    _tell_limits(values.get("pain_limit"), sketches, reader)
    return values, sketches


def _tell_limits(limit: int | None, sketches: Sequence[Sketch], reader: _Reader) -> None:
    """Note each stage that tolerates more pain than the programme does."""
    for number, one in enumerate(sketches):
        own = None if "pain_limit" in one.unread else one.stage.pain_limit
        if limit is not None and own is not None and own > limit:
            words = f"{own} is over the programme's limit of {limit}; change one"
            reader.tell((STAGES, number, "pain_limit"), words)


def _tell_doubles(tables: list[dict[str, Any]], reader: _Reader) -> None:
    for name in ("key", "name"):
        seen: dict[str, int] = {}
        for number, table in enumerate(tables):
            said = table.get(name, "")
            if not isinstance(said, str) or not said:
                continue
            if said.casefold() in seen:
                first = seen[said.casefold()] + 1
                words = f"{shown(said)} is that of stage {first} too; each stage has its own"
                reader.tell((STAGES, number, name), words)
            seen.setdefault(said.casefold(), number)


def _read_stage(table: dict[str, Any], number: int, reader: _Reader) -> Sketch:
    """Return the stage as far as it could be read; what is wrong with it is told."""
    place: Place = (STAGES, number)
    names = [key.name for key in STAGE_KEYS]
    meant = reader.tell_unknown(table, place, [*names, "criteria", "sources"])
    values = reader.read_keys(table, place, [key for key in STAGE_KEYS if key.name not in meant])
    given = frozenset(name for name in names if name in table)
    needed = {key.name for key in STAGE_KEYS if key.needed}
    unread = frozenset((given | meant | needed) - set(values))
    values["criteria"] = _read_criteria(table.get("criteria", {}), (*place, "criteria"), reader)
    values["sources"] = _read_sources(
        table.get("sources", {}), (*place, "sources"), [*names, *map(str, Measure)], reader
    )
    stage = Stage(**({"key": "", "name": "", "exercise": Exercise.HOLD} | values))
    for key, words in find_clashes(stage, given, unread):
        reader.tell((*place, *key.split(".")), words)
    return Sketch(stage, unread)


def _read_criteria(table: object, place: Place, reader: _Reader) -> tuple[Criterion, ...]:
    if not isinstance(table, dict):
        reader.tell(place, "is no table: a line [stages.criteria], then one line for each")
        return ()
    reader.tell_unknown(table, place, list(Measure))
    found = []
    for name, words in table.items():
        if name not in list(Measure):
            continue
        try:
            if not isinstance(words, str):
                raise ValueError(f"{shown(words)} is no text in quotes; write it as {ALLOWED}")
            found.append(parse_criterion(Measure(name), words))
        except ValueError as error:
            reader.tell((*place, name), str(error))
    return tuple(found)


def _read_sources(table: object, place: Place, known: Sequence[str], reader: _Reader) -> tuple[Source, ...]:
    if not isinstance(table, dict):
        reader.tell(place, "is no table of texts: under each key, where its number comes from")
        return ()
    reader.tell_unknown(table, place, known)
    found = []
    for name, words in table.items():
        if isinstance(words, str):
            found.append(Source(name, words))
        elif name in known:
            reader.tell((*place, name), f"{shown(words)} is no text in quotes, which says where the number comes from")
    return tuple(found)


def read_text(path: Path) -> str:
    """Return what the file at `path` holds. Raises ProgrammeError, which names it."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise ProgrammeError(f"{path}: cannot be read ({error.strerror or error})") from error
    if len(data) > LARGEST_BYTES:
        raise ProgrammeError(f"{path}: is too large for a programme (over 1 MB)")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise ProgrammeError(f"{path}, line {line}: is no UTF-8 text; save it as UTF-8") from error


def read_programme(text: str, name: str) -> Programme:
    """Return the programme in `text`. Raises ProgrammeError, which tells the first mistake and how to see the rest."""
    programme, mistakes = check_text(text)
    if programme is not None:
        return programme
    first, more = mistakes[0], len(mistakes) - 1
    rest = f"; {more} more: weightshare programme check {name}" if more else ""
    raise ProgrammeError(f"{name}, {first}{rest}", mistakes)
