"""The letters of a PDF: fonts that travel inside it, and no letter lost, whatever somebody is called."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

REGULAR, BOLD = "WeightshareRegular", "WeightshareBold"
_FILES = {REGULAR: "Vera.ttf", BOLD: "VeraBd.ttf"}
"""Bitstream Vera comes with reportlab, so it is on every machine."""
_PLACES = {
    "win32": ("C:/Windows/Fonts/arial.ttf", "C:/Windows/Fonts/msgothic.ttc", "C:/Windows/Fonts/seguisym.ttf"),
    "darwin": ("/System/Library/Fonts/Supplemental/Arial Unicode.ttf", "/Library/Fonts/Arial Unicode.ttf"),
}
_LINUX = ("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf", "/usr/share/fonts/dejavu-sans-fonts/DejaVuSans.ttf",
          "/usr/share/fonts/TTF/DejaVuSans.ttf", "/usr/share/fonts/truetype/noto/NotoSans-Regular.ttf",
          "/usr/share/fonts/truetype/liberation/LiberationSans-Regular.ttf",
          "/usr/share/fonts/truetype/droid/DroidSansFallbackFull.ttf", "/usr/share/fonts/truetype/wqy/wqy-microhei.ttc",
          "/usr/share/fonts/truetype/noto/NotoSansDevanagari-Regular.ttf",
          "/usr/share/fonts/truetype/noto/NotoSansThai-Regular.ttf")  # fmt: skip
"""Where systems keep a font of more letters (common practice, no source); Vera alone will do without."""
_CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]+")


@lru_cache(maxsize=1)
def load() -> None:
    """Make the two fonts that all is written in known to reportlab."""
    import reportlab
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    folder = Path(reportlab.__file__).parent / "fonts"
    for name, file in _FILES.items():
        registerFont(TTFont(name, str(folder / file)))


@lru_cache
def _load_helper(place: str) -> str | None:
    """Make a font that helps out known to reportlab, and return its name; None where it is not here.

    Done when a letter needs it: one with letters of all scripts takes longer to read than a report to write.
    """
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFError, TTFont

    name = f"WeightshareHelper{Path(place).stem}"
    try:
        registerFont(TTFont(name, place))
    except (TTFError, OSError):
        return None
    return name


def _fonts(own: str) -> Iterator[str]:
    """Yield the fonts that a letter is looked for in, in their order."""
    yield own
    yield from filter(None, map(_load_helper, _PLACES.get(sys.platform, _LINUX)))


@lru_cache(maxsize=4096)
def runs(text: str, bold: bool = False) -> tuple[tuple[str, str], ...]:
    """Return `text` in pieces, each with the name of a font that has all its letters; laid out anew it is asked again.

    A letter that no font here has is given by its number, as [U+4E2D]; control characters become a space.
    """
    load()
    return tuple(_runs(text, BOLD if bold else REGULAR))


def _runs(text: str, own: str) -> Iterator[tuple[str, str]]:
    piece, font = "", own
    for letter in _CONTROL.sub(" ", text):
        chosen = next((name for name in _fonts(own) if _has(name, letter)), None)
        said = letter if chosen is not None else f"[U+{ord(letter):04X}]"
        if (chosen or own) != font and piece:
            yield font, piece
            piece = ""
        piece, font = piece + said, chosen or own
    if piece:
        yield font, piece


def _has(name: str, letter: str) -> bool:
    from reportlab.pdfbase.pdfmetrics import getFont

    return ord(letter) in getFont(name).face.charToGlyph


def width_of(text: str, size: float, bold: bool = False) -> float:
    """Return how wide `text` is, in points."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(sum(stringWidth(piece, font, size) for font, piece in runs(text, bold)))


def shortened(text: str, room: float, size: float) -> str:
    """Return `text`, or as much of its beginning as is at most `room` points wide with the dots after it."""
    if width_of(text, size) <= room:
        return text
    kept = next((n for n in range(len(text), 0, -1) if width_of(f"{text[:n].rstrip()}\u2026", size) <= room), 0)
    return f"{text[:kept].rstrip()}\u2026"


def marked_up(text: str, bold: bool = False) -> str:
    """Return `text` for a reportlab paragraph: what has a meaning there is written out, helpers' letters are named."""
    from html import escape

    return "".join(f'<font name="{font}">{escape(piece)}</font>' for font, piece in runs(text, bold))
