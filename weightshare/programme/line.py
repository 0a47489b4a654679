"""On which line of a TOML file each key stands.

The standard library's reader says what a file holds and not where; the library that keeps a file's comments knows no
lines either. So a sound file is walked through statement by statement, each read by the standard reader: strings over
several lines, dotted keys and quotes are its business.
"""

from __future__ import annotations

import tomllib
from typing import Any

Place = tuple[str | int, ...]
"""Keys, and numbers from 0 on in an array of tables: ("stages", 2, "tempo")."""


def find_lines(text: str) -> dict[Place, int]:
    """Return the line of each table and key of `text`, from 1 on. Raises TOMLDecodeError where it is none."""
    tomllib.loads(text)
    found: dict[Place, int] = {}
    counts: dict[Place, int] = {}
    table: Place = ()
    lines = text.replace("\r\n", "\n").split("\n")
    number = 0
    while number < len(lines):
        begin = number
        words = lines[number].strip()
        number += 1
        if not words or words.startswith("#"):
            continue
        if words.startswith("["):
            table = _open_table(words, counts)
            found.setdefault(table, begin + 1)
            continue
        while (content := _try(lines[begin:number])) is None and number < len(lines):
            number += 1
        for place in _places(content):
            found[(*table, *place)] = begin + 1
    return found


def _open_table(words: str, counts: dict[Place, int]) -> Place:
    """Return the place of the table that a header opens; `counts`: how many of each array were opened so far."""
    value: Any = tomllib.loads(words)
    is_array, place = False, list[str | int]()
    while isinstance(value, dict) and value:
        ((key, value),) = value.items()
        place.append(key)
        is_array = isinstance(value, list)
        if is_array:
            value = value[0]
        elif (*place,) in counts:
            place.append(counts[(*place,)] - 1)
    if is_array:
        counts[(*place,)] = counts.get((*place,), 0) + 1
        place.append(counts[(*place,)] - 1)
    return tuple(place)


def _try(lines: list[str]) -> dict[str, Any] | None:
    """Return what the lines say where they are whole statements; None where the last one goes on."""
    try:
        return tomllib.loads("\n".join(lines))
    except tomllib.TOMLDecodeError:
        return None


def _places(content: object) -> list[Place]:
    """Return the places of all keys in `content`, whatever holds others among them."""
    inner: list[tuple[str | int, object]] = []
    if isinstance(content, dict):
        inner = list(content.items())
    elif isinstance(content, list):
        inner = list(enumerate(content))
    return [(key, *rest) for key, value in inner for rest in ((), *_places(value))]


def line_of(place: Place, lines: dict[Place, int]) -> int:
    """Return the line of `place`, or of the nearest that holds it; 1 where none is known."""
    while place and place not in lines:
        place = place[:-1]
    return lines.get(place, 1)
