"""Drawings as SVG: plain text, the same bytes for the same drawing, nothing in it that could run."""

from __future__ import annotations

import re
from html import escape

from weightshare.report.drawing import Drawing, Part, Path, Words

_NO_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What XML 1.0 (section 2.2) cannot hold, in whatever way it is written."""


def to_svg(drawing: Drawing) -> str:
    """Return `drawing` as an SVG document."""
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{to_element(drawing)}\n'


def to_element(drawing: Drawing) -> str:
    """Return `drawing` as an SVG element, for a page."""
    width, height = f"{drawing.width:g}", f"{drawing.height:g}"
    size = f'width="{width}pt" height="{height}pt" viewBox="0 0 {width} {height}"'
    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img" font-family="DejaVu Sans, Verdana, sans-serif">',
        f"<title>{clean(drawing.title)}</title>",
        f'<rect width="{width}" height="{height}" fill="#ffffff"/>',
        *(_part(part) for part in drawing.parts),
        "</svg>",
    ]
    return "\n".join(rows)


def clean(text: str) -> str:
    """Return `text` with what XML gives a meaning written out, and what it cannot hold as a replacement mark."""
    return escape(_NO_XML.sub("\ufffd", text))


def _part(part: Part) -> str:
    return _path(part) if isinstance(part, Path) else _words(part)


def _path(path: Path) -> str:
    name = "polygon" if path.closed else "polyline"
    points = " ".join(f"{x:.2f},{y:.2f}" for x, y in path.points)
    dash = ' stroke-dasharray="4 3"' if path.dashed else ""
    stroke = "none" if path.stroke is None else f'{path.stroke}" stroke-width="{path.width:g}'
    return f'<{name} points="{points}" fill="{path.fill or "none"}" stroke="{stroke}"{dash}/>'


def _words(words: Words) -> str:
    bold = ' font-weight="bold"' if words.bold else ""
    turn = f' transform="rotate(-90 {words.x:.2f} {words.y:.2f})"' if words.turned else ""
    place = f'x="{words.x:.2f}" y="{words.y:.2f}" font-size="{words.size:g}" text-anchor="{words.anchor}"'
    return f'<text {place} fill="{words.colour}"{bold}{turn}>{clean(words.text)}</text>'
