"""Spoken cues in the window: chosen where the cautions stand, said by Qt's engine, no failure where there is none."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import QObject

from tests.window.conftest import Bench
from tests.window.test_sets import UNDER_WAY, lifting, practising, show
from weightshare.exercise import Phase
from weightshare.practice.screen import Alarm, AlarmKind
from weightshare.window import language
from weightshare.window.main import PracticeWindow
from weightshare.window.voice import ALWAYS, AT_HOME, MOCK, NEVER, Voice


class Spoken:
    """An engine that remembers what it was told: what the window asks for, apart from what Qt makes of it."""

    def __init__(self) -> None:
        self.told: list[str] = []

    def say(self, words: str) -> None:
        self.told.append(words)

    def stop(self) -> None:
        self.told.append("stop")


@pytest.fixture
def english_after() -> Iterator[None]:
    yield
    language.speak(language.SOURCE)


def speaking(bench: Bench, when: str) -> tuple[PracticeWindow, Spoken]:
    bench.store.voice = when
    window, engine = practising(bench), Spoken()
    window.look.voice._engine = engine
    return window, engine


def test_cues_are_spoken_as_a_set_goes_on_and_an_alarm_ends_them(bench: Bench) -> None:
    window, engine = speaking(bench, ALWAYS)
    screen, at_s = show(bench, window, lifting(UNDER_WAY, Phase.RISE)), time.monotonic() + 10.0
    window.look.speak(replace(screen, phase=Phase.TOP), at_s)
    assert engine.told[-1] == "Hold"
    window.look.speak(replace(screen, alarm=Alarm(AlarmKind.OVER, "", "")), at_s + 2.0)
    assert engine.told[-1] == "stop"


@pytest.mark.parametrize(
    ("when", "at_home", "sound", "speaks"),
    [
        (AT_HOME, False, True, False),
        (AT_HOME, True, True, True),
        (ALWAYS, False, True, True),
        (NEVER, True, True, False),
        (ALWAYS, True, False, False),
    ],
)
def test_it_speaks_in_practice_at_home_unless_it_was_chosen_otherwise(
    bench: Bench, when: str, at_home: bool, sound: bool, speaks: bool
) -> None:
    window, engine = speaking(bench, when)
    window.ward.order.at_home = at_home
    window.look._sound.wanted = sound
    screen = show(bench, window, lifting(UNDER_WAY, Phase.BOTTOM))
    engine.told.clear()
    window.look.speak(replace(screen, phase=Phase.TOP), time.monotonic() + 10.0)
    assert bool(engine.told) is speaks


def test_when_is_chosen_where_the_cautions_stand(bench: Bench) -> None:
    assert bench.store.voice == AT_HOME
    window = bench.open(cautions_read=False)
    box = window.cautions.voice
    assert box.isVisible() and box.currentText() == "in practice at home"
    assert [box.itemText(row) for row in range(box.count())] == ["in practice at home", "always", "never"]
    box.setCurrentIndex(2)
    box.activated.emit(2)
    assert bench.store.voice == NEVER


def test_no_package_is_no_failure_and_is_said_in_one_line(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    """A module that is None raises ImportError, as one that is not installed does."""
    monkeypatch.setitem(sys.modules, "PySide6.QtTextToSpeech", None)
    bench.store.voice = ALWAYS
    window = bench.open()
    window.tick()
    assert not window.look.voice.is_open
    assert window.bar.said.text().count("No spoken cues: the extra") == 1
    window.tick()
    assert window.bar.said.text().count("No spoken cues") == 1


def test_nothing_is_loaded_while_nobody_wants_it(bench: Bench) -> None:
    window = bench.open()
    window.tick()
    assert not window.look.voice.is_open and "No spoken cues" not in window.bar.said.text()


@pytest.fixture
def module() -> Any:
    """Qt's text to speech, of the extra `voice`; its engine for tests speaks to nobody."""
    return pytest.importorskip("PySide6.QtTextToSpeech", reason="the extra voice is not installed")


def test_qts_own_engine_speaks(module: Any) -> None:
    parent = QObject()
    voice = Voice(parent)
    assert voice.open(MOCK) and voice.is_open and voice.words == ""
    engine = voice._engine
    assert engine.locale().name().startswith("en")
    engine.say("Slowly down")
    assert engine.state() is module.QTextToSpeech.State.Speaking
    engine.stop()
    assert engine.state() is module.QTextToSpeech.State.Ready


def test_a_language_without_a_voice_is_said_and_silent(module: Any, english_after: None) -> None:
    """The engine for tests has no German voice."""
    language.speak("de")
    voice = Voice(QObject())
    assert not voice.open(MOCK) and not voice.is_open
    assert voice.words.startswith("Keine gesprochenen Hinweise: keine Stimme")


def test_an_engine_that_does_not_start_is_said(module: Any) -> None:
    voice = Voice(QObject())
    assert not voice.open("nonsense") and "no speech engine" in voice.words
