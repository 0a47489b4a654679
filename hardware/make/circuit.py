"""Marks of circuit diagrams: resistors and capacitors as IEC 60617 draws them, ground, a bridge."""

from __future__ import annotations

import math

from hardware.make.pencil import BLUE, INK, PAPER, Sheet
from weightshare.report.drawing import Path, Point, Words


def draw_resistor(sheet: Sheet, a: Point, b: Point, name: str = "", reach: float = 13.0) -> None:
    """Draw a resistor on the line from `a` to `b`, with its name beside it."""
    (ax, ay), (bx, by) = a, b
    way = math.dist(a, b)
    ux, uy = (bx - ax) / way, (by - ay) / way
    mx, my = (ax + bx) / 2, (ay + by) / 2
    sheet.wire(a, b)
    ends = [
        (mx + s * 9 * ux + t * 3.5 * -uy, my + s * 9 * uy + t * 3.5 * ux)
        for s, t in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]
    sheet.parts.append(Path(tuple(ends), INK, PAPER, 1.0, closed=True))
    if name:
        lies = abs(uy) < 0.2
        place = (mx, my - 8) if lies else (mx + math.copysign(reach, reach), my + 3)
        sheet.say(*place, name, 8, "middle" if lies else ("start" if reach > 0 else "end"))


def draw_capacitor(sheet: Sheet, a: Point, b: Point, name: str = "") -> None:
    """Draw a capacitor on an upright line from `a` down to `b`."""
    (x, top), (_, low) = a, b
    middle = (top + low) / 2
    sheet.wire((x, top), (x, middle - 2))
    sheet.wire((x, middle + 2), (x, low))
    for y in (middle - 2, middle + 2):
        sheet.wire((x - 8, y), (x + 8, y), width=1.6)
    sheet.say(x + 11, middle + 3, name, 8)


def draw_ground(sheet: Sheet, x: float, y: float) -> None:
    """Draw a ground below a point."""
    for step, half in ((0, 8), (3, 5), (6, 2)):
        sheet.wire((x - half, y + step), (x + half, y + step), width=1.2)


def draw_clamp(sheet: Sheet, x: float, top: float, low: float, name: str = "") -> None:
    """Draw a two-way clamping diode (against static) from a wire down to ground."""
    middle = (top + low) / 2
    sheet.wire((x, top), (x, low))
    for sign in (-1, 1):
        sheet.parts.append(
            Path(((x, middle), (x - 5, middle + 9 * sign), (x + 5, middle + 9 * sign)), INK, PAPER, 1.0, closed=True)
        )
    sheet.wire((x - 6, middle), (x + 6, middle), width=1.4)
    sheet.say(x + 9, middle + 3, name, 8)


def draw_bridge(sheet: Sheet, x: float, y: float, reach: float) -> tuple[Point, Point, Point, Point]:
    """Draw a Wheatstone bridge about (x, y); return E+ (top), E- (below), S+ (right), S- (left)."""
    top, low, right, left = (x, y - reach), (x, y + reach), (x + reach, y), (x - reach, y)
    for a, b in ((top, right), (right, low), (low, left), (left, top)):
        draw_resistor(sheet, a, b)
    for point in (top, low, right, left):
        sheet.dot(*point)
    return top, low, right, left


def draw_bus(sheet: Sheet, a: Point, b: Point, count: int) -> None:
    """Draw a cable of so many cores as one line with a stroke and the number across it."""
    sheet.wire(a, b, width=1.6)
    mx, my = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    sheet.wire((mx - 3, my + 5), (mx + 3, my - 5), width=0.8)
    sheet.parts.append(Words(mx, my - 7, str(count), 7.5, "middle", BLUE))
