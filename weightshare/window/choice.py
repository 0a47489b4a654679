"""Settings as words that a person chooses or types, and back. Raises OptionError where words say nothing."""

from __future__ import annotations

from weightshare.errors import OptionError
from weightshare.exercise import Basis, Ceiling, Exercise, Surface, Tempo, parse_ceiling, parse_tempo
from weightshare.tongue import mark, number, say

EXERCISES = {
    Exercise.HOLD: mark("Stand and hold"),
    Exercise.HEEL_HOLD: mark("Hold, heels up"),
    Exercise.RAISE: mark("Heel raises, two legs"),
    Exercise.LOWERING: mark("Up even, lower to target"),
    Exercise.SINGLE_LOWERING: mark("Up on two, down on one"),
    Exercise.SINGLE_RAISE: mark("Heel raises, one leg"),
    Exercise.SQUAT: mark("Squats"),
    Exercise.SIT_TO_STAND: mark("Sit to stand"),
}
"""In the order in which they are offered."""
DEFAULT_PERCENT = 75.0
"""The target where neither the exercise nor anybody names one."""
SURFACES = {Surface.FLOOR: mark("the floor"), Surface.STEP: mark("a step, heels over its edge")}
BASES = {
    None: mark("the best that is measured"),
    Basis.HEIGHT: mark("heel height"),
    Basis.FORCE: mark("forces alone"),
    Basis.PACED: mark("the metronome"),
}
AND = " + "
"""Between the sources of two separate scales."""
OWN_PACE, NONE = mark("own pace"), mark("none")
TEMPOS = ("1-1-2-1", "1-1-3-1", "2-2-4-2", "1-0-1-1")
CEILINGS = ("20 kg", "25 %", "50 %")


def tempo_words(tempo: Tempo | None) -> str:
    """Return seconds up, at the top, down, at the bottom; or that it is the person's own."""
    return say(OWN_PACE) if tempo is None else str(tempo)


def tempo_of(words: str) -> Tempo | None:
    """Return the tempo that `words` say; None: the person's own."""
    said = _plain(words)
    return None if said in ("", *_either(OWN_PACE), *_either(NONE)) else parse_tempo(said)


def ceiling_words(ceiling: Ceiling | None) -> str:
    """Return the limit of load with its unit, or that there is none."""
    if ceiling is None:
        return say(NONE)
    return f"{number(ceiling.kg, 'g')} kg" if ceiling.kg is not None else f"{number(ceiling.percent or 0.0, 'g')} %"


def ceiling_of(words: str) -> Ceiling | None:
    """Return the limit that `words` say; None: there is none."""
    said = _plain(words)
    return None if said in ("", *_either(NONE)) else parse_ceiling(said)


def sources_words(sources: tuple[str, ...]) -> str:
    """Return where the scales are: one source, or two with a plus between."""
    return AND.join(sources)


def sources_of(words: str) -> tuple[str, ...]:
    """Return the source that `words` name, or both where there is a plus between. Raises OptionError for more."""
    sources = tuple(part.strip() for part in words.split(AND) if part.strip())
    if len(sources) > 2:
        raise OptionError(f"--source {words}: one scale, or two with a plus between")
    return sources


def blind_words(sets: tuple[int, ...]) -> str:
    """Return the numbers of the sets that are done without help."""
    return ", ".join(map(str, sets)) if sets else say(NONE)


def blind_of(words: str) -> tuple[int, ...]:
    """Return the numbers of the sets that `words` name, in order."""
    said = words.replace(",", " ").replace("and", " ").replace(say("and"), " ").split()
    if _plain(words) in ("", *_either(NONE)):
        return ()
    if not all(word.isdecimal() and int(word) > 0 for word in said):
        raise OptionError(f"--blind-sets {words}: give the numbers of the sets, as in 2, 3, or none")
    return tuple(sorted({int(word) for word in said}))


def _either(words: str) -> tuple[str, str]:
    """Return what may be typed for `words`: in English, and in the language chosen."""
    return _plain(words), _plain(say(words))


def _plain(words: str) -> str:
    return "".join(words.split()).lower().replace(",", ".")
