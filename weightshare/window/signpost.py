"""Where the words of the coming phases stand beside a corridor that bends: up, hold, down."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QRectF, Qt

from weightshare.model import Side
from weightshare.practice.screen import Ahead, Path
from weightshare.tongue import mark, say
from weightshare.window.plane import Plane

HEIGHT_PART = 0.113
"""How high a word's letters are, as part of the path's height: about 9 mm on a small screen, read at three metres."""
NOW_PART = 1.45
"""How much larger the word of the phase under way is: it stands below the now-line."""
GAP_PX = 40
"""Between word and corridor: the gate reaches into it."""
FOOT_PX = 4
"""Between a word and the line that it stands on."""
COLUMN = 2.9
"""How far out a word is moved whose phase is shorter than a word is high, in heights of a word."""
LEAN_POINTS = 0.5
WAITING = mark("when ready: {words}")
"""What is said at the gate while nothing flows."""


@dataclass(frozen=True, slots=True)
class Post:
    """One word within its room (px)."""

    words: str
    room: QRectF
    align: Qt.AlignmentFlag
    under_way: bool = False


def words_on_left(path: Path, injured: Side) -> bool:
    """Tell whether words stand to the corridor's left: on the side that it does not bend to."""
    ahead = path.ahead
    edges = [path.trail_low, path.trail_high] + ([] if ahead is None else [ahead.low, ahead.high])
    known = np.concatenate(edges)
    known = known[np.isfinite(known)]
    lean = float(known.mean()) - 50.0 if known.size else 0.0
    return lean > 0 if abs(lean) > LEAN_POINTS else injured is Side.RIGHT


def plant(path: Path, plane: Plane, injured: Side, beat_px: float) -> list[Post]:
    """Return the words that are to be seen now; none that would not fit.

    Those to come stand above the now-line and come down with their phases. The one of the phase under way stands
    below it until the next comes; at the rim beside it `beat_px` are left free.
    """
    ahead = path.ahead
    if ahead is None or not len(ahead.low):
        return []
    high = round(plane.height * HEIGHT_PART)
    left = words_on_left(path, injured)
    align = Qt.AlignmentFlag.AlignRight if left else Qt.AlignmentFlag.AlignLeft
    marks = sorted(ahead.marks)
    to_come = [one for one in marks if one[0] > 0 or ahead.waits]
    posts = [Post(words, room, align) for words, room in _line_up(to_come, ahead, plane, left, high)]
    passed = [words for from_now_s, words in marks if from_now_s <= 0]
    if passed and not ahead.waits:
        room = _room(ahead, plane, left, GAP_PX, round(high * NOW_PART)).translated(0, plane.now_row + FOOT_PX)
        room = room.adjusted(beat_px, 0, 0, 0) if left else room.adjusted(0, 0, -beat_px, 0)
        posts.append(Post(passed[-1], room, align, True))
    return posts


def _line_up(
    marks: list[tuple[float, str]], ahead: Ahead, plane: Plane, left: bool, high: int
) -> list[tuple[str, QRectF]]:
    """Return words with their rooms. One whose phase is shorter than a word is high gives way outwards."""
    lined: list[tuple[str, QRectF]] = []
    taken: dict[int, int] = {}
    for index in reversed(range(len(marks))):
        from_now_s, words = marks[index]
        row = plane.now_row - round(from_now_s * plane.px_per_s)
        column = next(n for n in range(len(marks)) if taken.get(n, -plane.height) <= row - high)
        taken[column] = row
        room = _room(ahead, plane, left, GAP_PX + column * COLUMN * high, high).translated(0, row - FOOT_PX - high)
        if room.top() >= 2 and room.width() >= COLUMN * high:
            lined.append((say(WAITING, words=words) if ahead.waits and index == 0 else words, room))
    return lined


def _room(ahead: Ahead, plane: Plane, left: bool, away: float, high: int) -> QRectF:
    """Return the room of a word `away` px from the corridor outwards, at the picture's top."""
    if left:
        return QRectF(2, 0, plane.x(float(np.nanmin(ahead.low))) - away - 2, high)
    begin = plane.x(float(np.nanmax(ahead.high))) + away
    return QRectF(begin, 0, plane.width - 2 - begin, high)
