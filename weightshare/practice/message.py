"""Messages from further down, which stand in English in the record and on the command line, in the language chosen.

What a scale, a record or a stage says of itself is kept as it was said: whoever reads a session later reads what the
program wrote. On the screen it is told in the language of the screen, by the templates of `remark` and `rule`.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from weightshare.model import Side
from weightshare.practice import remark, rule
from weightshare.tongue import ENGLISH, Tongue, chosen, say

TEMPLATES = (
    *remark.PARTS,
    *remark.LINK,
    *remark.AIR,
    *remark.SCALE,
    *remark.PLATES,
    *remark.RECORD,
    *remark.ANALYSIS,
    *remark.BENCH,
    *rule.OPTIONS,
    *rule.CRITERIA,
    *rule.SUGGESTIONS,
    *rule.FILE,
    *rule.EVIDENCE,
    *rule.SIDES,
    *rule.NAMES,
)
"""What is said further down, with names for what differs each time."""
_NAME = re.compile(r"\\\{([a-z_0-9]+)\\\}")
_FIGURE = re.compile(r"[+-]?\d+\.\d+")
_FIGURES = ("low", "high", "time", "seconds", "moved")
"""Names that stand for a figure, and for nothing else."""


def retell(said: str) -> str:
    """Return the message `said` in the language chosen; as it is where it is none that is known here."""
    return said if chosen() is ENGLISH or not said else _retell(said, chosen())


@lru_cache(maxsize=512)
def _retell(said: str, _tongue: Tongue) -> str:
    """Return `said` in the language that is chosen; what is on the screen is asked for at each picture."""
    known = say(said)
    if known != said:
        return known
    for pattern, template in _patterns():
        if found := pattern.fullmatch(said):
            told: dict[str, Any] = {name: _value(text) for name, text in found.groupdict().items()}
            return say(template, **told) if told else say(template)
    return said


def _value(text: str) -> object:
    """Return what stands for a name: a side in the form that a sentence wants, a figure with its decimal mark."""
    if text in tuple(Side):
        return Side(text)
    return text.replace(".", chosen().decimal) if _FIGURE.fullmatch(text) else retell(text)


@lru_cache(maxsize=1)
def _patterns() -> tuple[tuple[re.Pattern[str], str], ...]:
    """Return the templates as patterns, those with most text of their own first: the others fit nearly anything."""
    ordered = sorted(TEMPLATES, key=lambda template: -len(re.sub(r"\{.*?\}", "", template)))
    return tuple((re.compile(_NAME.sub(_group, re.escape(one)), re.DOTALL), one) for one in ordered)


def _group(found: re.Match[str]) -> str:
    return rf"(?P<{found[1]}>[+-]?[\d.]+)" if found[1] in _FIGURES else rf"(?P<{found[1]}>.+?)"
