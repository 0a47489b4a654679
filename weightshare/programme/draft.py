"""A programme while it is changed: every key as text, its mistakes key by key. Comments and order of the file stay."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from typing import Any, NamedTuple

from weightshare.programme.key import PROGRAMME_KEYS, STAGE_KEYS, Key
from weightshare.programme.kind import Kind
from weightshare.programme.reading import Mistake, check_text
from weightshare.programme.salvage import STAGES

CRITERIA, SOURCES = "criteria", "sources"
_OPTION = re.compile(r'"([^"]+)"')
_PAIR = re.compile(r"\s*([\w-]+)\s*=\s*(.+?)\s*")


class Spot(NamedTuple):
    """Where something stands: the number of the stage from 0 on (None: the programme itself), and the key."""

    stage: int | None
    key: str


def keys_of(stage: int | None) -> tuple[Key, ...]:
    """Return the keys that a stage, or the programme itself, may have."""
    return PROGRAMME_KEYS if stage is None else STAGE_KEYS


def options_of(kind: Kind) -> tuple[str, ...]:
    """Return what may be chosen under a key of `kind`; empty where anything is typed."""
    if kind.allowed == "true or false":
        return "true", "false"
    return tuple(_OPTION.findall(kind.allowed)) if kind.allowed.startswith("one of ") else ()


class Draft:
    """Holds the text of a programme, which has to be sound TOML to begin with. Raises what tomlkit raises."""

    def __init__(self, text: str) -> None:
        import tomlkit

        self._before = text
        self._document: Any = tomlkit.parse(text)

    @property
    def text(self) -> str:
        """The file as it would be now."""
        import tomlkit

        return tomlkit.dumps(self._document)

    @property
    def is_changed(self) -> bool:
        """Whether anything is not as it was."""
        return self.text != self._before

    @property
    def stages(self) -> int:
        """How many stages there are."""
        return len(self._document.get("stages", ()))

    def said(self, spot: Spot) -> str:
        """Return what stands at `spot`, as it would be typed; empty where nothing does."""
        value = self._table(spot.stage).get(spot.key)
        if spot.key in (CRITERIA, SOURCES):
            return "\n".join(f"{name} = {words}" for name, words in (value or {}).items())
        return "" if value is None else _typed(value)

    def say(self, spot: Spot, words: str) -> None:
        """Have `words` stand at `spot`; empty: nothing. What is wrong with them is told by `mistakes`."""
        table, words = self._table(spot.stage), words.strip()
        if words == self.said(spot):
            return
        if not words:
            table.pop(spot.key, None)
        elif spot.key in (CRITERIA, SOURCES):
            table[spot.key] = dict(_pairs(words))
        else:
            kind = next(key.kind for key in keys_of(spot.stage) if key.name == spot.key)
            table[spot.key] = _meant(kind, words)

    def _table(self, stage: int | None) -> Any:
        return self._document if stage is None else self._document["stages"][stage]

    def mistakes(self) -> dict[Spot, str]:
        """Return what is wrong, by where; of several about one key the first."""
        found: dict[Spot, str] = {}
        for mistake in check_text(self.text)[1]:
            found.setdefault(_spot(mistake), _words(mistake))
        return found

    def copy_stage(self, stage: int) -> None:
        """Put a copy of `stage` behind it, under a key and a name of its own. Nothing of it is freed."""
        copied = self._document["stages"][stage].unwrap()
        keys = {self.said(Spot(number, "key")) for number in range(self.stages)}
        number = next(n for n in range(2, 1000) if f"{copied.get('key', '')}-{n}" not in keys)
        copied |= {"key": f"{copied.get('key', '')}-{number}", "name": f"{copied.get('name', '')} ({number})"}
        for key in ("freed", "freed_by", "freed_on"):
            copied.pop(key, None)
        self._arrange([*range(stage + 1), copied, *range(stage + 1, self.stages)])

    def remove_stage(self, stage: int) -> None:
        """Take `stage` away; the last one that there is stays."""
        if self.stages > 1:
            self._arrange([number for number in range(self.stages) if number != stage])

    def _arrange(self, order: list[Any]) -> None:
        """Have the stages in `order`: numbers of those that there are, and new ones as plain values."""
        import tomlkit

        before, stages = self._document["stages"], tomlkit.aot()
        for one in order:
            stages.append(before[one] if isinstance(one, int) else tomlkit.item(one))
        self._document["stages"] = stages

    def next_version(self) -> str:
        """Return the version that would come next: the last number in it one higher."""
        return next_version(self.said(Spot(None, "version")))


def next_version(version: str) -> str:
    """Return `version` with its last number one higher; with a number behind it where it has none."""
    found = re.search(r"(\d+)(\D*)$", version)
    if found is None:
        return f"{version} 2".strip()
    return f"{version[: found.start()]}{int(found[1]) + 1}{found[2]}"


def _typed(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return value.isoformat() if isinstance(value, date) else str(value)


def _meant(kind: Kind, words: str) -> object:
    """Return the value of `kind` that `words` mean; themselves where they mean none, so that it is told why not."""
    for value in _readings(words):
        try:
            kind.read(value)
        except ValueError:
            continue
        return kind.write(kind.read(value))
    return words


def _readings(words: str) -> Iterator[object]:
    yield words
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


def _pairs(words: str) -> Iterator[tuple[str, str]]:
    """Yield each line's name and what it says; a line without a sign of equality is a name without words."""
    for line in words.splitlines():
        found = _PAIR.fullmatch(line)
        if found is not None:
            yield found[1], found[2].strip('"')
        elif line.strip():
            yield re.sub(r"[^\w-]+", "-", line.strip()), ""


def _spot(mistake: Mistake) -> Spot:
    place = mistake.place
    if len(place) > 1 and place[0] == STAGES:
        return Spot(int(place[1]), str(place[2]) if len(place) > 2 else "")
    return Spot(None, str(place[0]) if place else "")


def _words(mistake: Mistake) -> str:
    _, _, inner = mistake.where.rpartition(".")
    return f"{inner}: {mistake.words}" if "." in mistake.where else mistake.words
