"""What somebody types for a key, as the value that is meant; and a value as it would be typed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from weightshare.programme.kind import Kind

_PAIR = re.compile(r"\s*([\w-]+)\s*=\s*(.*?)\s*")


def next_version(version: str) -> str:
    """Return `version` with its last number one higher; with a number behind it where it has none."""
    found = re.search(r"(\d+)(\D*)$", version)
    if found is None:
        return f"{version} 2".strip()
    return f"{version[: found.start()]}{int(found[1]) + 1}{found[2]}"


def typed(value: object) -> str:
    """Return `value`, as a file has it, as somebody would type it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return value.isoformat() if isinstance(value, date) else str(value)


def meant(kind: Kind, words: str) -> object:
    """Return the value of `kind` that `words` mean; themselves where they mean none, so that it is told why not."""
    number: object = words
    for value in _readings(_without_unit(kind, words)):
        try:
            return kind.write(kind.read(value))
        except ValueError:
            # one that is out of its range is told as a number, and not as a text
            is_number = kind.span is not None and number is words and isinstance(value, int | float)
            number = value if is_number and not isinstance(value, bool) else number
    return number


def _without_unit(kind: Kind, words: str) -> str:
    """Return a number as it is, where somebody typed its unit too."""
    if kind.span is None:
        return words
    unit = kind.span[2]
    return words.removesuffix("%" if unit == "percent" else unit).rstrip() or words


def _readings(words: str) -> Iterator[object]:
    yield words
    if words[:1].isdigit():
        yield "".join(words.split())
    for read in (int, float):
        try:
            yield read(words.replace(",", "."))
        except ValueError:
            continue
    if words in ("true", "false"):
        yield words == "true"
    parts = [part for part in words.replace(",", " ").split() if part]
    yield parts
    if all(part.isdecimal() for part in parts):
        yield [int(part) for part in parts]


def pairs_of(words: str) -> Iterator[tuple[str, str]]:
    """Yield each line's name and what it says; a line without a sign of equality is a name without words."""
    for line in words.splitlines():
        found = _PAIR.fullmatch(line)
        if found is not None:
            yield found[1], found[2].strip('"')
        elif line.strip():
            yield re.sub(r"[^\w-]+", "-", line.strip()), ""
