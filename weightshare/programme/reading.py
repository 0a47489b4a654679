"""From a programme's file to its frozen value, or to all of its mistakes at once."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from weightshare.errors import InputError
from weightshare.programme.coherence import find_clashes
from weightshare.programme.criterion import ALLOWED, Criterion, Measure, parse_criterion
from weightshare.programme.key import PROGRAMME_KEYS, SCHEMA, STAGE_KEYS, Key
from weightshare.programme.line import Place, find_lines, line_of
from weightshare.programme.stage import Programme, Source, Stage

LARGEST_BYTES = 1 << 20


class ProgrammeError(InputError):
    """A programme cannot be used; the message names the file, the line and the key."""


@dataclass(frozen=True, slots=True, order=True)
class Mistake:
    """One mistake: its line, from 1 on, the key, and what is allowed, in words."""

    line: int
    where: str
    words: str

    def __str__(self) -> str:
        return f"line {self.line}: {self.where}: {self.words}"


class _Reader:
    """Reads tables and gathers mistakes instead of stopping at the first."""

    def __init__(self, lines: dict[Place, int]) -> None:
        self.mistakes: list[Mistake] = []
        self._lines = lines

    def tell(self, place: Place, where: str, words: str) -> None:
        """Note a mistake in what stands at `place`."""
        self.mistakes.append(Mistake(line_of(place, self._lines), where, words))

    def read_keys(self, table: dict[str, Any], place: Place, keys: Sequence[Key], stage: str = "") -> dict[str, Any]:
        """Return the values of those keys that are there and sound."""
        values: dict[str, Any] = {}
        for key in keys:
            where = f"{stage}{key.name}"
            if key.name not in table:
                if key.needed:
                    self.tell(place, where, f"is missing: {key.kind.allowed}")
                continue
            try:
                values[key.name] = key.kind.read(table[key.name])
            except ValueError as error:
                self.tell((*place, key.name), where, str(error))
        return values

    def tell_unknown(self, table: dict[str, Any], place: Place, known: Sequence[str], stage: str = "") -> None:
        """Note each key that is none, with the one that was probably meant."""
        for name in table:
            if name not in known:
                near = get_close_matches(name, known, n=1)
                meant = f"did you mean {near[0]}?" if near else f"the keys are {', '.join(known)}"
                self.tell((*place, name), f"{stage}{name}", f"is no key; {meant}")


def check_text(text: str) -> tuple[Programme | None, tuple[Mistake, ...]]:
    """Return the programme that `text` holds, or None and all of its mistakes in the order of their lines."""
    try:
        content = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return None, (_unreadable(error, text.count("\n") + 1),)
    reader = _Reader(find_lines(text))
    programme = _read_programme(content, reader)
    return (None if reader.mistakes else programme), tuple(sorted(reader.mistakes))


def _unreadable(error: tomllib.TOMLDecodeError, last: int) -> Mistake:
    said, _, where = str(error).partition(" (at ")
    digits = "".join(letter for letter in where.partition(",")[0] if letter.isdigit())
    return Mistake(int(digits or last), "this is no TOML", f"{said[:1].lower()}{said[1:]}; a text stands in quotes")


def _read_programme(content: dict[str, Any], reader: _Reader) -> Programme | None:
    if content.get("schema") != SCHEMA:
        reader.tell(("schema",), "schema", f'is missing or another: write schema = "{SCHEMA}"')
    known = ["schema", *(key.name for key in PROGRAMME_KEYS), "sources", "stages"]
    reader.tell_unknown(content, (), known)
    values = reader.read_keys(content, (), PROGRAMME_KEYS)
    names = [key.name for key in (*PROGRAMME_KEYS, *STAGE_KEYS)] + list(Measure)
    values["sources"] = _read_sources(content.get("sources", {}), ("sources",), names, reader)
    tables = content.get("stages", [])
    if not isinstance(tables, list) or not tables or not all(isinstance(one, dict) for one in tables):
        there = "there are none" if "stages" not in content else "this is no list of stages"
        reader.tell(("stages",), "stages", f"{there}: each begins with a line [[stages]]")
        return None
    stages = [_read_stage(table, number, reader) for number, table in enumerate(tables)]
    _tell_doubles(tables, reader)
    if reader.mistakes:
        return None
    return Programme(stages=tuple(one for one in stages if one is not None), **values)


def _tell_doubles(tables: list[dict[str, Any]], reader: _Reader) -> None:
    for name in ("key", "name"):
        seen: dict[str, int] = {}
        for number, table in enumerate(tables):
            said = str(table.get(name, "")).casefold()
            if said and said in seen:
                reader.tell(
                    ("stages", number, name),
                    f"stage {number + 1}, {name}",
                    f'"{table[name]}" is that of stage {seen[said] + 1} too; each stage has its own',
                )
            seen.setdefault(said, number)


def _read_stage(table: dict[str, Any], number: int, reader: _Reader) -> Stage | None:
    place: Place = ("stages", number)
    told = table.get("key")
    stage = f"stage {number + 1}{f' ({told})' if isinstance(told, str) else ''}, "
    before = len(reader.mistakes)
    names = [key.name for key in STAGE_KEYS]
    reader.tell_unknown(table, place, [*names, "criteria", "sources"], stage)
    values = reader.read_keys(table, place, STAGE_KEYS, stage)
    values["criteria"] = _read_criteria(table.get("criteria", {}), (*place, "criteria"), stage, reader)
    values["sources"] = _read_sources(
        table.get("sources", {}), (*place, "sources"), [*names, *map(str, Measure)], reader, stage
    )
    if len(reader.mistakes) > before:
        return None
    found = Stage(**values)
    for key, words in find_clashes(found, set(table)):
        reader.tell((*place, *key.split(".")), f"{stage}{key}", words)
    return found


def _read_criteria(table: object, place: Place, stage: str, reader: _Reader) -> tuple[Criterion, ...]:
    if not isinstance(table, dict):
        reader.tell(place, f"{stage}criteria", "is no table: a line [stages.criteria], then one line for each")
        return ()
    reader.tell_unknown(table, place, list(Measure), f"{stage}criteria.")
    found = []
    for name, words in table.items():
        if name not in list(Measure):
            continue
        try:
            if not isinstance(words, str):
                raise ValueError(f"{words!r} is no text; write it as {ALLOWED}")
            found.append(parse_criterion(Measure(name), words))
        except ValueError as error:
            reader.tell((*place, name), f"{stage}criteria.{name}", str(error))
    return tuple(found)


def _read_sources(
    table: object, place: Place, known: Sequence[str], reader: _Reader, stage: str = ""
) -> tuple[Source, ...]:
    if not isinstance(table, dict) or not all(isinstance(words, str) for words in table.values()):
        reader.tell(place, f"{stage}sources", "is no table of texts: under each key, where its number comes from")
        return ()
    reader.tell_unknown(table, place, known, f"{stage}sources.")
    return tuple(Source(key, words) for key, words in table.items())


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
    raise ProgrammeError(f"{name}, {first}{rest}")
