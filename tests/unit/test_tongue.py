"""Texts in another language: what is said without a translator, and what a translator is asked for."""

from __future__ import annotations

import threading

import pytest

from weightshare.model import Side
from weightshare.state import State
from weightshare.tongue import ENGLISH, IN_A_SENTENCE, Tongue, choose, chosen, mark, number, plural, say, speaking

GERMAN = {
    ("More weight on your {injured} foot.", ""): "Mehr Gewicht auf den {injured}en Fuß.",
    ("{other:C} foot back on.", ""): "{other:C}en Fuß wieder aufsetzen.",
    ("left", IN_A_SENTENCE): "link",
    ("left", ""): "links",
    ("in the band", ""): "im Band",
    ("one", "leg"): "einem",
}


def translate(text: str, sense: str, count: int) -> str:
    """Translate as Qt does: what is not known comes back; with a count, in the form that it wants."""
    if text == "{n} sets":
        return "{n} Satz" if count == 1 else "{n} Sätze"
    return GERMAN.get((text, sense), text)


TONGUE = Tongue(translate, ",")


def test_english_stands_as_it_is_written() -> None:
    assert say("Stop on pain.") == "Stop on pain." == mark("Stop on pain.")
    assert say("More weight on your {injured} foot.", injured=Side.LEFT) == "More weight on your left foot."
    assert say("{other:C} foot back on.", other=Side.RIGHT) == "Right foot back on."
    assert say("{load:.1f} kg on {percent:g} %, {count}", load=2.25, percent=50.0, count=3) == "2.2 kg on 50 %, 3"
    # braces in a text without values are no names
    assert say("{path}") == "{path}"
    assert number(3.14159, ".2f") == "3.14"


@pytest.mark.parametrize(("count", "said"), [(0, "0 sets of 5"), (1, "1 set of 5"), (2, "2 sets of 5")])
def test_english_counts(count: int, said: str) -> None:
    assert plural("{n} set of {asked}", "{n} sets of {asked}", count, asked=5) == said


def test_another_language_has_its_own_order_forms_and_decimal_mark() -> None:
    with speaking(TONGUE):
        assert say("More weight on your {injured} foot.", injured=Side.LEFT) == "Mehr Gewicht auf den linken Fuß."
        assert say("{other:C} foot back on.", other=Side.LEFT) == "Linken Fuß wieder aufsetzen."
        assert say(Side.LEFT) == "links"
        assert say("one", "leg") == "einem" and say("one") == "one"
        # no form for a sentence is known: it is called as on its own
        assert say("{state}", state=State.IN_BAND) == "im Band"
        assert [plural("{n} set", "{n} sets", count) for count in (1, 3)] == ["1 Satz", "3 Sätze"]
        assert say("{load:.1f} kg", load=2.25) == "2,2 kg" and number(0.5) == "0,5"
        # what is no number keeps its points: an address, a date, a text
        assert say("{place}", place="192.168.0.20") == "192.168.0.20"


def test_what_has_no_translation_stays_english_in_the_right_number() -> None:
    with speaking(TONGUE):
        assert say("Stop on pain.") == "Stop on pain."
        assert [plural("{n} gap", "{n} gaps", count) for count in (1, 2)] == ["1 gap", "2 gaps"]


def test_a_language_is_chosen_for_every_thread_and_spoken_over_in_one() -> None:
    heard: list[str] = []

    def listen() -> None:
        heard.append(say(Side.LEFT))

    try:
        choose(TONGUE)
        with speaking(ENGLISH):
            assert say(Side.LEFT) == "left" and chosen() is ENGLISH
            other = threading.Thread(target=listen)
            other.start()
            other.join()
        assert heard == ["links"] == [say(Side.LEFT)]
    finally:
        choose(ENGLISH)
    assert say(Side.LEFT) == "left"
