"""Settings as words, and back."""

from __future__ import annotations

import pytest

from weightshare.errors import OptionError
from weightshare.exercise import Basis, Ceiling, Exercise, Surface, Tempo
from weightshare.window import choice


def test_every_exercise_surface_and_basis_has_words_of_its_own() -> None:
    for words, members in (
        (choice.EXERCISES, set(Exercise)),
        (choice.SURFACES, set(Surface)),
        (choice.BASES, {None, *Basis}),
    ):
        assert set(words) == members and len(set(words.values())) == len(members)


@pytest.mark.parametrize("tempo", [None, Tempo(1.0, 0.0, 2.5, 0.5), Tempo(2.0, 2.0, 4.0, 2.0)])
def test_a_tempo_comes_back_from_its_words(tempo: Tempo | None) -> None:
    assert choice.tempo_of(choice.tempo_words(tempo)) == tempo


@pytest.mark.parametrize(
    ("words", "tempo"),
    [("1-1-3", Tempo(1, 1, 3, 1)), (" 1 - 0,5 - 3 - 2 ", Tempo(1, 0.5, 3, 2)), ("Own Pace", None), ("", None)],
)
def test_a_tempo_is_read_as_people_type_it(words: str, tempo: Tempo | None) -> None:
    assert choice.tempo_of(words) == tempo


@pytest.mark.parametrize("ceiling", [None, Ceiling(kg=20.0), Ceiling(percent=12.5)])
def test_a_ceiling_comes_back_from_its_words(ceiling: Ceiling | None) -> None:
    assert choice.ceiling_of(choice.ceiling_words(ceiling)) == ceiling


def test_a_ceiling_is_read_as_people_type_it() -> None:
    assert choice.ceiling_of("20KG") == Ceiling(kg=20.0)
    assert choice.ceiling_of("12,5 %") == Ceiling(percent=12.5)
    assert choice.ceiling_of(" None ") is None


@pytest.mark.parametrize(
    ("words", "sets"), [("none", ()), ("", ()), ("3", (3,)), ("2, 3", (2, 3)), ("3 and 2 2", (2, 3)), ("1,4", (1, 4))]
)
def test_blind_sets_are_read_as_people_type_them(words: str, sets: tuple[int, ...]) -> None:
    assert choice.blind_of(words) == sets
    assert choice.blind_of(choice.blind_words(sets)) == sets


def test_words_that_say_nothing_are_refused_in_words() -> None:
    for read, words, said in (
        (choice.tempo_of, "fast", "1-1-3-1"),
        (choice.tempo_of, "0.1-1-1", "s for the rise"),
        (choice.ceiling_of, "20", "20kg"),
        (choice.ceiling_of, "900 kg", "kg"),
        (choice.blind_of, "the last", "2, 3"),
        (choice.blind_of, "0", "2, 3"),
    ):
        with pytest.raises(OptionError, match=said):
            read(words)
