"""What stands between a cell and its converter: shunt, clamps, filter."""

from __future__ import annotations

from hardware.make.circuit import draw_bridge, draw_capacitor, draw_clamp, draw_ground, draw_resistor
from hardware.make.pencil import SHADE, Sheet
from hardware.make.plan import FIGURES
from weightshare.report.drawing import Drawing


def draw_input() -> Drawing:
    """Return what stands between a cell and its converter."""
    f = FIGURES["filter"]
    sheet = Sheet("Input of one converter", "A bridge, its shunt for the check, clamps, filter and converter")
    top, low, right, left = draw_bridge(sheet, 150, 210, 56)
    sheet.say(150, 214, "cell", 9, "middle", bold=True)
    sheet.wire(top, (150, 96), (640, 96))
    sheet.wire(low, (150, 350), (640, 350))
    sheet.wire(right, (232, 210), (232, 190), (340, 190))
    sheet.wire(left, (70, 210), (70, 316), (300, 316), (300, 250), (340, 250))
    draw_resistor(sheet, (340, 190), (430, 190), f"{f['series_ohm']} Ω")
    draw_resistor(sheet, (340, 250), (430, 250), f"{f['series_ohm']} Ω")
    sheet.wire((430, 190), (640, 190))
    sheet.wire((430, 250), (640, 250))
    draw_capacitor(sheet, (460, 190), (460, 250), f"{f['across_nF']} nF")
    _hop(sheet, 530)
    draw_capacitor(sheet, (584, 250), (584, 318), f"{f['each_nF']} nF")
    draw_ground(sheet, 584, 318)
    sheet.wire((500, 350), (500, 360))
    sheet.dot(500, 350)
    draw_ground(sheet, 500, 360)
    for x, y in ((530, 190), (584, 250)):
        sheet.dot(x, y)
    for x, y in ((460, 190), (460, 250)):
        sheet.dot(x, y)
    draw_clamp(sheet, 268, 190, 232, "clamp")
    draw_ground(sheet, 268, 232)
    draw_clamp(sheet, 322, 250, 292, "clamp")
    draw_ground(sheet, 322, 292)
    for x, word in ((380, "10 µF"), (430, "100 nF")):
        draw_capacitor(sheet, (x, 96), (x, 136), word)
        draw_ground(sheet, x, 136)
        sheet.dot(x, 96)
    _shunt(sheet, 232)
    sheet.block(640, 76, 96, 292, ("converter", "24 bit"), fill=SHADE)
    for y, word in ((96, "E+ and reference"), (190, "S+"), (250, "S−"), (350, "E−, ground")):
        sheet.say(634, y - 4, word, 8.5, "end", bold=True)
    for y, word in ((150, "clock"), (290, "data")):
        draw_resistor(sheet, (736, y), (800, y), "330 Ω")
        sheet.say(804, y + 14, word, 8.5, "end")
    sheet.list(60, 408, _input_notes(), 8.8, 13)
    return sheet.finish(lengths=False)


def _hop(sheet: Sheet, x: float) -> None:
    """Draw the capacitor of the upper wire, which goes by the lower one without touching it."""
    sheet.wire((x, 190), (x, 246))
    sheet.wire((x, 246), (x + 4, 250), (x, 254))
    draw_capacitor(sheet, (x, 254), (x, 318), f"{FIGURES['filter']['each_nF']} nF")
    draw_ground(sheet, x, 318)


def _shunt(sheet: Sheet, x: float) -> None:
    """Draw the shunt and its switch, from E+ down to S+."""
    sheet.dot(x, 96)
    sheet.wire((x, 96), (x, 106))
    sheet.wire((x, 122), (x + 9, 108))
    draw_resistor(sheet, (x, 122), (x, 190), "shunt", 9)
    sheet.dot(x, 190)


def _input_notes() -> tuple[str, ...]:
    return (
        "Ratiometric: the converter compares the signal with the excitation itself: its value and slow changes cancel.",
        "The shunt makes the bridge look loaded by a known amount: clip it on, read the change, compare.",
        "Clamps: 5 V stand-off, where the cell's leads come in. Their leakage is in the reading: under 1 nA.",
        "Filter: all capacitors C0G or film; the two small ones within 1 %, or hum on both leads becomes a signal.",
    )
