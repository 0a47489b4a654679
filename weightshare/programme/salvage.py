"""What a programme's file says, also where some of its lines are no TOML: those are told, and all others are read.

The standard reader stops at the first of them. Somebody who writes `pain-during = at most 2` without quotes would be
told of that alone, and of the next mistake only afterwards.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from typing import Any

from weightshare.programme.kind import Torn, plain
from weightshare.programme.line import (
    Place,
    Statement,
    Tables,
    find_lines,
    is_toml,
    places_of,
    read_statements,
    split_lines,
)

MOST_SLIPS = 40
"""After so many lines that are no TOML it is no programme: the rest is not read."""
STAGES = "stages"
_TORN = "\0"
"""The one key of a table that stands where a value was no TOML: no key of a file can be typed like that."""
_KEY = re.compile(r'(?P<key>[\w-]+|"[^"\\]+")\s*(?P<sign>[:=])\s*(?P<words>.*)')
_HEAD = re.compile(r"\[+\s*stages\s*(?:\.\s*(?P<part>criteria|sources)\s*)?\]*\s*(?:#.*)?")
_WHERE = re.compile(r" \(at (?:line (\d+).*|end of document)\)$")


@dataclass(frozen=True, slots=True)
class Slip:
    """A line, from 1 on, that is no TOML, or says again what was said before; where in the file, and what to do."""

    line: int
    place: Place
    words: str


@dataclass(slots=True)
class Content:
    """What a file says, the line of each key, and the lines that are no TOML."""

    values: dict[str, Any]
    lines: dict[Place, int]
    slips: list[Slip] = field(default_factory=list)


def read_content(text: str) -> Content:
    """Return what `text` says, as far as it can be read."""
    try:
        return _one_stage(Content(tomllib.loads(text), find_lines(text)))
    except tomllib.TOMLDecodeError:
        mended = _Mender(split_lines(text))
    sound = "\n".join(mended.lines)
    values = _untorn(tomllib.loads(sound), mended.typed)
    return _one_stage(Content(values, find_lines(sound), sorted(mended.slips, key=lambda slip: slip.line)))


def _one_stage(content: Content) -> Content:
    """Take one table [stages] for a list of one: told, and read all the same."""
    if isinstance(content.values.get(STAGES), dict):
        content.values[STAGES] = [content.values[STAGES]]
        content.lines = {
            (STAGES, 0, *place[1:]) if place[:1] == (STAGES,) else place: line for place, line in content.lines.items()
        }
        line = content.lines.get((STAGES, 0), 1)
        content.slips.append(Slip(line, (STAGES,), "each stage begins with a line [[stages]]"))
    return content


def _untorn(value: Any, typed: dict[int, str]) -> Any:
    """Return `value` with what was typed in the place of each table that stands for a torn one."""
    if isinstance(value, list):
        return [_untorn(one, typed) for one in value]
    if not isinstance(value, dict):
        return value
    if list(value) == [_TORN] and value[_TORN] in typed:
        return Torn(plain(typed[value[_TORN]]))
    return {key: _untorn(one, typed) for key, one in value.items()}


class _Mender:
    """Has `lines` be TOML, each in its place: what is none is mended where it is plain what was meant, or taken out."""

    def __init__(self, lines: list[str]) -> None:
        self.lines, self.slips = list(lines), list[Slip]()
        self.typed: dict[int, str] = {}
        """What was typed behind a key, by the number of its line, where it is no value."""
        self._said: dict[Place, int] = {}
        self._tables = Tables()
        self._is_left_out = False
        """A table that was there before is passed over."""
        for one in read_statements(lines, sound=False):
            if len(self.slips) >= MOST_SLIPS:
                self._end(one.begin)
                break
            self._take(one)
        self._mend_the_rest()

    def _take(self, one: Statement) -> None:
        if one.words.startswith("["):
            self._take_head(one)
        elif self._is_left_out:
            self._strike(one)
        elif one.content is None:
            self._mend(one)
        elif again := self._find_again(one.content):
            self._tell_again(one, again)
        else:
            self._note(one.content, one.begin)

    def _find_again(self, content: dict[str, Any]) -> Place:
        """Return the first key of `content` that was there before; of a.b = 1 that is b: a may be there often."""
        inner = {place[:-1] for place in places_of(content)}
        own = (place for place in places_of(content) if place not in inner)
        return next((place for place in own if (*self._tables.open, *place) in self._said), ())

    def _tell_again(self, one: Statement, again: Place) -> None:
        place = (*self._tables.open, *again)
        self._slip(one.begin, f"stands twice, first in line {self._said[place]}; keep one", place)
        self._strike(one)

    def _note(self, content: dict[str, Any], begin: int) -> None:
        self._said |= {(*self._tables.open, *place): begin + 1 for place in places_of(content)}

    def _take_head(self, one: Statement) -> None:
        self._is_left_out = not self._is_head(one)
        if not self._is_left_out:
            self._tables.take(tomllib.loads(self.lines[one.begin]))
            before = self._said.setdefault(self._tables.open, one.begin + 1)
            self._is_left_out = before != one.begin + 1
            if self._is_left_out:
                words = f"stands twice, first in line {before}; put its lines there"
                self._slip(one.begin, words, self._tables.open)
        if self._is_left_out:
            self._strike(one)

    def _is_head(self, one: Statement) -> bool:
        """Return whether a table begins with `one`, which is mended where it is plain which."""
        found = _HEAD.fullmatch(one.words)
        if found is None:
            if one.content is None:
                words = f"{plain(one.words)} begins no table; a stage begins with a line [[{STAGES}]]"
                self._slip(one.begin, words, ())
            return one.content is not None
        head = f"[{STAGES}.{found['part']}]" if found["part"] else f"[[{STAGES}]]"
        if one.content != tomllib.loads(head):
            self._slip(one.begin, f"{plain(one.words)} is to be {head}", ())
            self.lines[one.begin] = head
        return True

    def _mend(self, one: Statement) -> None:
        """Keep the key, where there is one, so that what is asked for under it can be told."""
        found = _KEY.fullmatch(one.words)
        if found is None:
            self._slip(one.begin, f"{plain(one.words)} is no line of a programme; a line says key = value", ())
            self._strike(one)
        elif (*self._tables.open, found["key"].strip('"')) in self._said:
            self._tell_again(one, (found["key"].strip('"'),))
        else:
            self.lines[one.begin] = line = self._mended(one, found)
            self._note(tomllib.loads(line), one.begin)

    def _mended(self, one: Statement, found: re.Match[str]) -> str:
        bare, words = found["key"].strip('"'), found["words"]
        key = bare if bare.isascii() and bare == found["key"] else f'"{bare}"'
        line = f"{key} = {words}"
        if found["sign"] == ":" and is_toml(line):
            told = f"an equals sign stands behind a key: {plain(line)}"
            self._slip(one.begin, told, (*self._tables.open, bare))
            return line
        self.typed[one.begin] = words or "nothing"
        line = f'{key} = {{"\\u0000" = {one.begin}}}'
        return line if is_toml(line) else ""

    def _mend_the_rest(self) -> None:
        """Take out what only all lines together show to be none: a key in a table that is closed."""
        for _ in range(MOST_SLIPS):
            try:
                tomllib.loads("\n".join(self.lines))
                return
            except tomllib.TOMLDecodeError as error:
                self._take_out(str(error))
        self._end(0)

    def _take_out(self, said: str) -> None:
        found = _WHERE.search(said)
        last = max((number for number, line in enumerate(self.lines) if line.strip()), default=0)
        number = int(found[1]) - 1 if found is not None and found[1] else last
        why = _WHERE.sub("", said)
        self._slip(number, f"this is no TOML: {why[:1].lower()}{plain(why[1:])}")
        while number > 0 and not self.lines[number].strip():
            number -= 1
        self.lines[number] = ""

    def _slip(self, number: int, words: str, place: Place | None = None) -> None:
        self.slips.append(Slip(number + 1, self._tables.open if place is None else place, words))

    def _strike(self, one: Statement) -> None:
        self.lines[one.begin : one.end] = [""] * (one.end - one.begin)

    def _end(self, number: int) -> None:
        """Read nothing from this line on."""
        self._slip(number, "too many lines are no TOML; from here on nothing was read")
        self.lines[number:] = [""] * (len(self.lines) - number)
