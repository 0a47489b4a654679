"""The language that texts on the screen are in. English stands in the program, and is said without a translator.

A text is marked where it stands: `say("Hold {done} of {asked}", done=1, asked=3)`, `plural("{n} set", "{n} sets", 3)`,
and `mark("...")` for one that is kept in a constant and said later. What the names in braces stand for is put in after
the translation, so that another language may have them in another order. Qt stays outside: the window hands in what
translates.
"""

from __future__ import annotations

import string
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from typing import Any

Translator = Callable[[str, str, int], str]
"""From an English text, what tells it from the same text in another sense, and a count (-1: none) to what is shown."""

COUNTED = "counted"
"""The sense of a text that has forms by a count."""
IN_A_SENTENCE = "in a sentence"
"""The sense of a value's name inside a sentence, where a language may need another form of it than on its own."""


@dataclass(frozen=True, slots=True)
class Tongue:
    """A language: what translates, None for English, and the decimal mark."""

    translator: Translator | None = None
    decimal: str = "."


ENGLISH = Tongue()
_chosen = [ENGLISH]
"""One reference in a place of its own, replaced whole: it may be read on any thread."""
_here: ContextVar[Tongue | None] = ContextVar("here", default=None)


def choose(tongue: Tongue) -> None:
    """Have texts said in `tongue` from now on, on every thread."""
    _chosen[0] = tongue


@contextmanager
def speaking(tongue: Tongue) -> Iterator[None]:
    """Have this thread speak `tongue` within the block, whatever is chosen: for a document in a language of its own."""
    token = _here.set(tongue)
    try:
        yield
    finally:
        _here.reset(token)


def chosen() -> Tongue:
    """Return the language that is spoken here."""
    return _here.get() or _chosen[0]


def mark(text: str) -> str:
    """Return `text` as it stands: it is to be translated where it is said."""
    return text


def say(text: str, /, sense: str = "", **values: object) -> str:
    """Return `text` in the language chosen, with `values` put in by their names.

    A number is put in with the language's decimal mark, a member of an enumeration as a sentence wants it; the format
    `C` gives a capital letter. `sense` tells the text from the same one that means something else.
    """
    said = _translate(text, sense)
    return _fill(said, values) if values else said


def plural(one: str, many: str, count: int, /, **values: object) -> str:
    """Return `one` or `many`, as `count` wants it, which is put in as `n`; another language may have other forms."""
    translator = chosen().translator
    said = many if translator is None else translator(many, COUNTED, count)
    # what is not translated comes back as it was asked
    said = one if said == many and count == 1 else said
    return _fill(said, {"n": count, **values})


def number(value: float, form: str = "") -> str:
    """Return `value` in the format `form`, with the decimal mark of the language chosen."""
    return format(value, form).replace(".", chosen().decimal)


def _translate(text: str, sense: str) -> str:
    translator = chosen().translator
    return str(text) if translator is None or not text else translator(str(text), sense, -1)


def _name(value: Enum) -> str:
    """Return an enumeration's member as a sentence has it; where no such form is known, as it is called on its own."""
    text = str(value)
    said = _translate(text, IN_A_SENTENCE)
    return _translate(text, "") if said == text else said


@lru_cache(maxsize=2048)
def _parts(text: str) -> tuple[tuple[str, str | None, str], ...]:
    """Return `text` cut at its names: what stands before one, the name (None: it is the end), and its format."""
    return tuple((before, name, form or "") for before, name, form, _ in string.Formatter().parse(text))


def _fill(text: str, values: Mapping[str, object]) -> str:
    """Put `values` in by their names; texts are said at each picture, and cut only once."""
    return "".join(before if name is None else before + _put(values[name], form) for before, name, form in _parts(text))


def _put(value: Any, form: str) -> str:
    said = _name(value) if isinstance(value, Enum) else value
    if form == "C":
        return f"{said[:1].upper()}{said[1:]}"
    return number(said, form) if isinstance(said, float) else format(said, form)
