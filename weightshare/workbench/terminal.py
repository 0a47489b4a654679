"""A guided calibration in the terminal: each step on a line of its own, and one line that is written over."""

from __future__ import annotations

import re
import shutil
from typing import TextIO

from weightshare.model import Side
from weightshare.workbench.view import BenchView, Stage

_CLEAR = "\r\x1b[K"
_REDRAW_S = 0.2
_BAR = 20


class BenchLine:
    """Shows views on `stream`; where that is no terminal, only what is new: steps and troubles."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._columns = shutil.get_terminal_size().columns if stream.isatty() else 0
        self._said: tuple[int, str] = (0, "")
        self._trouble = ""
        self._words = ""
        self._drawn_s = float("-inf")

    def show(self, view: BenchView, now_s: float) -> None:
        """Bring the terminal up to `view`; `now_s` is any clock that goes forward."""
        if view.ask is not None and view.stage is Stage.ASK and (view.number, view.headline) != self._said:
            self._said = view.number, view.headline
            self._say(f"{view.number}/{view.steps}  {view.headline}")
        # figures that waver are no news
        trouble = re.sub(r"-?[0-9][0-9.]*", "", view.trouble)
        if trouble != self._trouble:
            self._trouble = trouble
            self._say(f"    ! {said(view.trouble)}" if view.trouble else "")
        if view.words != self._words and view.words.endswith("begins again"):
            self._say(f"    ! {view.words}")
        self._words = view.words
        if self._columns and now_s - self._drawn_s >= _REDRAW_S:
            self._drawn_s = now_s
            self._stream.write(_CLEAR + live_text(view)[: self._columns - 1])
            self._stream.flush()

    def close(self) -> None:
        """Take the line that is written over away."""
        if self._columns:
            self._stream.write(_CLEAR)
            self._stream.flush()

    def _say(self, text: str) -> None:
        if text:
            self._stream.write(f"{_CLEAR if self._columns else ''}{text}\n")
            self._stream.flush()


def live_text(view: BenchView) -> str:
    """Return the line that is written over: how far the step is, both loads, how long it will take."""
    loads = "  ".join(
        f"{side} {'  -  ' if kg is None else f'{kg:5.1f}'} kg" for side, kg in zip(Side, view.load_kg, strict=True)
    )
    full = round(view.part * _BAR)
    bar = f"[{'#' * full}{'.' * (_BAR - full)}]"
    doing = said(view.headline) if view.stage is Stage.MEASURE else said(view.words)
    return f"    {bar}  {loads}  about {view.left_s / 60.0:.0f} min left  {doing}"


def said(words: str) -> str:
    """Return words with the key that does in a terminal what Space does in the window."""
    return words.replace("press Space", "press Enter")
