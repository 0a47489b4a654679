"""Spoken cues through Qt's text to speech, where that is installed. That there is none is no error."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QLocale, QObject

from weightshare.practice.call import Caller
from weightshare.practice.screen import Screen
from weightshare.task import Settings
from weightshare.tongue import mark, say

AT_HOME, ALWAYS, NEVER = "home", "always", "never"
WISHES = {AT_HOME: mark("in practice at home"), ALWAYS: mark("always"), NEVER: mark("never")}
"""When cues are spoken, as it is chosen."""
MOCK = "mock"
"""Qt's own engine for tests, which says nothing."""


class Voice:
    """Speaks what a Caller calls. Nothing is loaded before `open`."""

    def __init__(self, parent: QObject) -> None:
        self.words = ""
        """Why nothing is spoken; empty while something may be."""
        self._parent, self._caller = parent, Caller()
        self._engine: Any = None

    @property
    def is_open(self) -> bool:
        """Whether there is a voice."""
        return self._engine is not None

    def open(self, engine: str = "") -> bool:
        """Open `engine`, or the system's own, in the language of the window; return whether it has a voice for that.

        Where not, `words` says why.
        """
        try:
            from PySide6.QtTextToSpeech import QTextToSpeech
        except ImportError:
            self.words = say("No spoken cues: the extra “voice” (PySide6-Addons) is not installed.")
            return False
        engine = engine or next((name for name in QTextToSpeech.availableEngines() if name != MOCK), "")
        made = QTextToSpeech(engine, self._parent) if engine else None
        if made is None or made.state() is QTextToSpeech.State.Error:
            self.words = say("No spoken cues: this computer has no speech engine.")
            return False
        language = QLocale().language()
        language = QLocale.Language.English if language is QLocale.Language.C else language
        own = [one for one in made.availableLocales() if one.language() == language]
        if not own:
            self.words = say("No spoken cues: no voice on this computer speaks the language of the window.")
            return False
        made.setLocale(own[0])
        self._engine, self.words = made, ""
        return True

    def follow(self, screen: Screen, settings: Settings, now_s: float) -> None:
        """Speak what is due with `screen` at the host's time `now_s` (s); an alarm ends what is being said."""
        words = self._caller.push(screen, settings, now_s)
        if self._engine is None:
            return
        if screen.alarm is not None:
            self._engine.stop()
        elif words:
            # what is still being said is of before
            self._engine.say(words)
