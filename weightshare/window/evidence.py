"""The clinician's strip under the board: loads and share with what they are worth, and how the calibration stands."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy

from weightshare.practice.screen import Screen

NOTHING = "\n"
"""Two empty lines: what stands above keeps its place when figures come and go."""


class EvidenceStrip(QLabel):
    """Two lines of text; hidden in the patient's view. Wrapped text would push the board about, so it is not."""

    def __init__(self) -> None:
        super().__init__(NOTHING)
        self.setObjectName("evidence")
        self.setTextFormat(Qt.TextFormat.PlainText)
        # a line that is too long is cut, and does not widen the window
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.hide()

    def show_screen(self, screen: Screen) -> None:
        """Say what `screen` has of it."""
        said = NOTHING if screen.blank else "\n".join(screen.figures.evidence) or NOTHING
        if said != self.text():
            self.setText(said)
            self.setToolTip(said.strip())
