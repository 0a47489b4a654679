"""A bar above the board that says one thing and offers what can be done. It blocks nothing."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton

from weightshare.tongue import say

Offer = tuple[str, Callable[[], None]]
"""A button's text with its mnemonic, and what it does."""


class NoticeBar(QFrame):
    """Hidden while there is nothing to say, and while it is hushed: what is said then waits."""

    left = Signal()
    """One of the things offered was done, or none was wanted; the bar is hidden."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("notice")
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self._buttons: list[QPushButton] = []
        self._hushed = False
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(14, 8, 14, 8)
        self._row.addWidget(self.words, 1)
        self.hide()

    def say(self, words: str, *offers: Offer) -> None:
        """Show `words` and a button for each offer, in place of what was said before."""
        self.clear()
        self.words.setText(words)
        for text, act in offers:
            button = QPushButton(text)
            button.clicked.connect(_ignoring_the_flag(act))
            self._row.addWidget(button)
            self._buttons.append(button)
        self.setHidden(self._hushed)

    def follow(self, words: str, *offers: Offer) -> bool:
        """Say `words` as long as they hold, nothing where they are empty; return whether the bar went away just now."""
        if words and self.words.text() != words:
            self.say(words, *offers)
        elif not words and not self.isHidden():
            self.clear()
            return True
        return False

    def offer(self, words: str, *offers: Offer) -> None:
        """Say `words` and offer what can be done; any of it, or Not now, takes the bar away."""
        self.say(words, *(self._once(offer) for offer in offers), self._once((say("Not no&w"), lambda: None)))

    def _once(self, offer: Offer) -> Offer:
        text, act = offer

        def act_once() -> None:
            self.clear()
            self.left.emit()
            act()

        return text, act_once

    @property
    def is_free(self) -> bool:
        """Whether nothing is said here, and nothing waits."""
        return not self.words.text()

    def hush(self, hushed: bool) -> None:
        """Keep what is said off the window while `hushed`: in a set, or a hold, nothing else is to be read."""
        if hushed is not self._hushed:
            self._hushed = hushed
            self.setHidden(hushed or self.is_free)

    def clear(self) -> None:
        """Say nothing."""
        for button in self._buttons:
            self._row.removeWidget(button)
            button.hide()
            button.deleteLater()
        self._buttons = []
        self.words.clear()
        self.hide()


def _ignoring_the_flag(act: Callable[[], None]) -> Callable[[bool], None]:
    return lambda _checked: act()
