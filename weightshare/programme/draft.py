"""A programme while it is changed: every key as text, its mistakes key by key. Comments and order of the file stay."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection
from difflib import get_close_matches
from functools import lru_cache
from typing import Any, NamedTuple

from weightshare.programme.coherence import can_be_had, find_misplaced
from weightshare.programme.criterion import ABOUT, Measure
from weightshare.programme.key import PROGRAMME_KEYS, SCHEMA, STAGE_KEYS, Key
from weightshare.programme.kind import Kind
from weightshare.programme.reading import Examined, Mistake, Sketch, examine
from weightshare.programme.salvage import STAGES
from weightshare.programme.stage import NO_SOURCE, Lock
from weightshare.programme.typed import meant, next_version, pairs_of, typed

CRITERIA, SOURCES = "criteria", "sources"
_EMPTY_LINES = re.compile(r"(\r?\n)(?:\r?\n){2,}(?=\[\[stages\]\])")
_WITHOUT = frozenset(key.name for key in STAGE_KEYS if not key.needed)
"""The keys of a stage that need not be said."""
NEW_STAGE = {"exercise": "heel-hold", "target_percent": 50}
"""What a new stage asks for until it is changed: what everybody begins with."""


class Spot(NamedTuple):
    """Where something stands: the number of the stage from 0 on (None: the programme itself), and the key.

    One criterion, or one source, is "criteria.sets-done".
    """

    stage: int | None
    key: str


def keys_of(stage: int | None) -> tuple[Key, ...]:
    """Return the keys that a stage, or the programme itself, may have."""
    return PROGRAMME_KEYS if stage is None else STAGE_KEYS


class Draft:
    """Holds the text of a programme, which has to be sound TOML to begin with. Raises what tomlkit raises."""

    def __init__(self, text: str) -> None:
        import tomlkit

        self._before = text
        self._text: str | None = None
        self._document: Any = tomlkit.parse(text)

    @property
    def text(self) -> str:
        """The file as it would be now."""
        import tomlkit

        if self._text is None:
            self._text = tomlkit.dumps(self._document)
        return self._text

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
        if spot.key in (CRITERIA, SOURCES) and isinstance(value, dict):
            return "\n".join(f"{name} = {words}" for name, words in value.items())
        return "" if value is None else typed(value)

    def say(self, spot: Spot, words: str) -> None:
        """Have `words` stand at `spot`; empty: nothing. What is wrong with them is told by `mistakes`.

        With another exercise nothing of the stage is freed any more: the clinician freed the one that it was.
        """
        table, words = self._table(spot.stage), words.strip()
        if words == self.said(spot):
            return
        self._text = None
        if spot.stage is not None and spot.key == "exercise":
            _shut(table)
        if not words:
            table.pop(spot.key, None)
        elif spot.key in (CRITERIA, SOURCES):
            _say_pairs(table, spot.key, dict(pairs_of(words)))
        else:
            table[spot.key] = meant(_kind_of(spot), words)

    def _table(self, stage: int | None) -> Any:
        return self._document if stage is None else self._document["stages"][stage]

    def mistakes(self) -> dict[Spot, str]:
        """Return what is wrong, by where; of several about one key the first."""
        found: dict[Spot, str] = {}
        for mistake in self._examined().mistakes:
            found.setdefault(_spot(mistake), mistake.words)
        return found

    def unplaced(self, stage: int | None) -> list[Spot]:
        """Return where something is wrong that no field is for: keys that are none, and the name of the schema."""
        known = {"", CRITERIA, SOURCES, STAGES, *(key.name for key in keys_of(stage))}
        spots = (spot for spot in self.mistakes() if spot.stage == stage)
        return [spot for spot in spots if spot.key.partition(".")[0] not in known]

    def mend(self, stage: int | None) -> None:
        """Have a misspelt key called as it was meant, take others away, and have the schema called as it is."""
        table, known = self._table(stage), [key.name for key in keys_of(stage)]
        for spot in self.unplaced(stage):
            self._text = None
            if stage is None and spot.key == "schema":
                table["schema"] = SCHEMA
                continue
            name = next((one for one in table if spot.key.startswith(f"{one}.")), spot.key)
            value, near = table.pop(name, None), get_close_matches(name, known, n=1)
            if value is not None and near and near[0] not in table:
                table[near[0]] = value

    def _examined(self) -> Examined:
        return _examine(self.text)

    def _sketch(self, stage: int) -> Sketch | None:
        sketches = self._examined().sketches
        return sketches[stage] if stage < len(sketches) else None

    def misplaced(self, stage: int) -> frozenset[str]:
        """Return the keys that have no place in `stage` as it is now, and say nothing there."""
        sketch = self._sketch(stage)
        if sketch is None:
            return frozenset()
        none = find_misplaced(sketch.stage, sketch.unread)
        if not self.locks(stage):
            none |= {"freed", "freed_by", "freed_on"}
        return frozenset(key for key in none if not self.said(Spot(stage, key)))

    def measures(self, stage: int) -> tuple[Measure, ...]:
        """Return the measures that can be had in `stage` as it is now."""
        sketch = self._sketch(stage)
        every = tuple(Measure)
        if sketch is None:
            return every
        return tuple(one for one in every if can_be_had(ABOUT[one].kind, sketch.stage, sketch.unread))

    def locks(self, stage: int) -> tuple[Lock, ...]:
        """Return all that locks `stage`, freed or not."""
        sketch = self._sketch(stage)
        return () if sketch is None else sketch.stage.locks

    def is_shut(self, stage: int) -> bool:
        """Return whether `stage` is locked, and was not freed."""
        sketch = self._sketch(stage)
        return sketch is not None and bool(sketch.stage.shut)

    def in_force(self, spot: Spot) -> str:
        """Return what holds where nothing is said at `spot`, as it would be typed; empty where nothing does."""
        if spot.stage is None:
            return NO_SOURCE if spot.key == "source" else ""
        sketch = self._sketch(spot.stage)
        if sketch is None or spot.key not in _WITHOUT:
            return ""
        if spot.key == "pain_limit":
            return self.said(Spot(None, "pain_limit"))
        name = "mean_points" if spot.key == "mean_tolerance_points" else spot.key
        value = getattr(sketch.stage, name)
        if value is None or value in ("", ()):
            return ""
        return typed(_kind_of(spot).write(value))

    def copy_stage(self, stage: int) -> None:
        """Put a copy of `stage` behind it, under a key and a name of its own. Nothing of it is freed."""
        copied = self._document["stages"][stage].unwrap()
        keys = {self.said(Spot(number, "key")) for number in range(self.stages)}
        number = next(n for n in range(2, 1000) if f"{copied.get('key', '')}-{n}" not in keys)
        copied |= {"key": f"{copied.get('key', '')}-{number}", "name": f"{copied.get('name', '')} ({number})"}
        _shut(copied)
        self._arrange([*range(stage + 1), copied, *range(stage + 1, self.stages)])

    def add_stage(self, stage: int) -> None:
        """Put a new stage behind `stage`, which asks for little until it is changed."""
        taken = {self.said(Spot(number, key)) for number in range(self.stages) for key in ("key", "name")}
        number = next(n for n in range(self.stages + 1, 10000) if not {f"stage-{n}", f"Stage {n}"} & taken)
        new = {"key": f"stage-{number}", "name": f"Stage {number}", **NEW_STAGE}
        self._arrange([*range(stage + 1), new, *range(stage + 1, self.stages)])

    def move_stage(self, stage: int, step: int) -> None:
        """Put `stage` one place up (-1) or down (1), where there is one."""
        order = list(range(self.stages))
        if 0 <= stage + step < self.stages:
            order[stage], order[stage + step] = order[stage + step], order[stage]
            self._arrange(order)

    def remove_stage(self, stage: int) -> None:
        """Take `stage` away; the last one that there is stays."""
        if self.stages > 1:
            self._arrange([number for number in range(self.stages) if number != stage])

    def _arrange(self, order: list[Any]) -> None:
        """Have the stages in `order`: numbers of those that there are, and new ones as plain values."""
        import tomlkit
        from tomlkit.items import AoT

        self._text = None
        before, stages = self._document["stages"], tomlkit.aot()
        is_inline = not isinstance(before, AoT)
        for one in order:
            there = before[one] if isinstance(one, int) else one
            stages.append(tomlkit.item(there.unwrap()) if is_inline and isinstance(one, int) else tomlkit.item(there))
        if is_inline:
            # tables come after all that stands by itself
            del self._document["stages"]
        self._document["stages"] = stages
        # the library puts an empty line before each table that it is given, where there is one already
        self._document = tomlkit.parse(_EMPTY_LINES.sub(r"\1\1", tomlkit.dumps(self._document)))

    def next_version(self, taken: Collection[str] = ()) -> str:
        """Return the version that would come next: the last number in it one higher, or more where that is `taken`."""
        version = next_version(self.said(Spot(None, "version")))
        while version in taken:
            version = next_version(version)
        return version


@lru_cache(maxsize=4)
def _examine(text: str) -> Examined:
    """Return what is in `text`: while it is shown it is asked for many times."""
    return examine(text)


def can_draft(text: str) -> bool:
    """Return whether a draft can be made of `text`: whether it is TOML with stages, whatever is wrong with those."""
    try:
        stages = tomllib.loads(text).get(STAGES)
    except tomllib.TOMLDecodeError:
        return False
    return isinstance(stages, list) and bool(stages) and all(isinstance(one, dict) for one in stages)


def mistake_at(mistakes: dict[Spot, str], spot: Spot) -> str:
    """Return what is wrong at `spot`, or with the first that stands in it, which is named then; empty: nothing."""
    if spot in mistakes:
        return mistakes[spot]
    within = f"{spot.key}."
    inner = ((one, words) for one, words in mistakes.items() if one.stage == spot.stage and one.key.startswith(within))
    return next((f"{one.key.removeprefix(within)}: {words}" for one, words in inner), "")


def _shut(table: Any) -> None:
    """Have nothing of the stage in `table` be freed."""
    for key in ("freed", "freed_by", "freed_on"):
        table.pop(key, None)


def _kind_of(spot: Spot) -> Kind:
    return next(key.kind for key in keys_of(spot.stage) if key.name == spot.key)


def _say_pairs(table: Any, key: str, pairs: dict[str, str]) -> None:
    """Have `pairs` stand in the table under `key`; what stays as it was keeps its place and its comment."""
    if not isinstance(table.get(key), dict):
        table[key] = pairs
        return
    there = table[key]
    for name in [name for name in there if name not in pairs]:
        there.pop(name)
    for name, words in pairs.items():
        if there.get(name) != words:
            there[name] = words


def _spot(mistake: Mistake) -> Spot:
    place = mistake.place
    if len(place) > 1 and place[0] == STAGES:
        return Spot(int(place[1]), ".".join(map(str, place[2:4])))
    return Spot(None, ".".join(map(str, place[:2])))
