"""On which line of a TOML file each key stands.

The standard library's reader says what a file holds and not where; the library that keeps a file's comments knows no
lines either. So a file is walked through statement by statement, each read by the standard reader: strings over
several lines, dotted keys and quotes are its business.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

Place = tuple[str | int, ...]
"""Keys, and numbers from 0 on in an array of tables: ("stages", 2, "tempo")."""
MOST_LINES = 40
"""Where a file is no TOML, so many lines are looked at for the end of one statement."""


@dataclass(frozen=True, slots=True)
class Statement:
    """The head of a table, or keys with their values: its lines `begin` to `end` (not with it), from 0 on.

    `content` is what it says; None where it is no TOML.
    """

    begin: int
    end: int
    words: str
    content: dict[str, Any] | None

    @property
    def is_head(self) -> bool:
        """Whether a table begins here."""
        return self.words.startswith("[")


class Tables:
    """Keeps which table is open: each of an array of tables has a number of its own."""

    def __init__(self) -> None:
        self.open: Place = ()
        self._counts: dict[Place, int] = {}

    def take(self, content: dict[str, Any]) -> None:
        """Open the table that a head says."""
        value: Any = content
        is_array, place = False, list[str | int]()
        while isinstance(value, dict) and value:
            ((key, value),) = value.items()
            place.append(key)
            is_array = isinstance(value, list)
            if is_array:
                value = value[0]
            elif (*place,) in self._counts:
                place.append(self._counts[(*place,)] - 1)
        if is_array:
            self._counts[(*place,)] = self._counts.get((*place,), 0) + 1
            place.append(self._counts[(*place,)] - 1)
        self.open = tuple(place)


def split_lines(text: str) -> list[str]:
    """Return the lines of `text` as TOML has them: other signs that end a line elsewhere may stand in a comment."""
    return text.replace("\r\n", "\n").split("\n")


def read_statements(lines: list[str], *, sound: bool) -> Iterator[Statement]:
    """Yield what `lines` say, comments and empty lines left out. `sound`: all of them together are TOML."""
    number = 0
    while number < len(lines):
        begin, words = number, lines[number].strip()
        number += 1
        if not words or words.startswith("#"):
            continue
        content = _try(lines[begin:number])
        last = len(lines) if sound else min(len(lines), begin + MOST_LINES)
        while content is None and number < last and (sound or not is_toml(lines[number])):
            number += 1
            content = _try(lines[begin:number])
        if content is None:
            number = begin + 1
        yield Statement(begin, number, words, content)


def find_lines(text: str) -> dict[Place, int]:
    """Return the line of each table and key of `text`, from 1 on. Raises TOMLDecodeError where it is none."""
    tomllib.loads(text)
    found: dict[Place, int] = {}
    tables = Tables()
    for one in read_statements(split_lines(text), sound=True):
        assert one.content is not None
        if one.is_head:
            tables.take(one.content)
            found.setdefault(tables.open, one.begin + 1)
            continue
        for place in places_of(one.content):
            found[(*tables.open, *place)] = one.begin + 1
    return found


def is_toml(line: str) -> bool:
    """Return whether `line` says something by itself."""
    return bool(_try([line]))


def _try(lines: list[str]) -> dict[str, Any] | None:
    """Return what the lines say where they are whole statements; None where the last one goes on."""
    try:
        return tomllib.loads("\n".join(lines))
    except tomllib.TOMLDecodeError:
        return None


def places_of(content: object) -> list[Place]:
    """Return the places of all keys in `content`, whatever holds others among them."""
    inner: list[tuple[str | int, object]] = []
    if isinstance(content, dict):
        inner = list(content.items())
    elif isinstance(content, list):
        inner = list(enumerate(content))
    return [(key, *rest) for key, value in inner for rest in ((), *places_of(value))]


def line_of(place: Place, lines: dict[Place, int]) -> int:
    """Return the line of `place`, or of the nearest that holds it; 1 where none is known."""
    while place and place not in lines:
        place = place[:-1]
    return lines.get(place, 1)
