"""The wirings: one board for both plates, a board for each, half bridges."""

from __future__ import annotations

from typing import Any

from hardware.make.circuit import draw_bus, draw_resistor
from hardware.make.pencil import BOARD, INK, METAL, SHADE, Sheet
from hardware.make.plan import FIGURES, settings
from weightshare.report.drawing import Drawing, Path

PINS = FIGURES["pins"]
CORES = (
    ("core", "what", "at the plate", "at the board"),
    ("1", "3V3", "regulator, sensor", "3V3 out"),
    ("2", "GND", "ground", "GND"),
    ("3, 4", "clock, data", "front converter", "two pins, 330 Ω in each"),
    ("5, 6", "clock, data", "rear converter", "two pins, 330 Ω in each"),
    ("7, 8", "SCL, SDA", "heel sensor", "two pins, 2.2 kΩ to 3V3"),
    ("shield", "", "not joined", "GND, at this end only"),
)


def force_pins(name: str, side: str) -> list[tuple[str, int, int]]:
    """Return front or rear, clock pin and data pin of one plate's converters, out of the firmware's settings."""
    channels: list[dict[str, Any]] = settings(name)["channels"]
    mine = [one for one in channels if one["quantity"] == "force" and one["side"] == side]
    return [("front" if one["y_mm"] > 0 else "rear", one["clock"], one["data"]) for one in mine]


def draw_standard() -> Drawing:
    """Return the wiring of the standard build."""
    sheet = Sheet(
        "Wiring, standard build: one board reads both plates", "Cells, converters and pins of the standard build"
    )
    sheet.block(340, 44, 162, 268, fill=BOARD)
    sheet.say(421, 60, "the board's box", 9, "middle", bold=True)
    sheet.say(421, 72, "microcontroller, 3.3 V", 8.5, "middle")
    for side, edge, way in (("left", 340.0, -1), ("right", 502.0, 1)):
        _plate(sheet, side, edge, way)
    _board_foot(sheet)
    sheet.table(40, 430, CORES, (50, 74, 108, 140), 8.5)
    sheet.say(40, 412, "One cable to each plate, 8 cores and a shield, 1 m", 10, bold=True)
    sheet.say(432, 412, "Rules", 10, bold=True)
    sheet.list(432, 434, _rules(), 8.4, 12.6)
    return sheet.finish(lengths=False)


def _plate(sheet: Sheet, side: str, edge: float, way: int) -> None:
    """Draw one plate: `edge` is the board's edge to it, `way` -1 to the left and 1 to the right."""

    def x(far: float) -> float:
        return edge + way * far

    outline = tuple((x(far), y) for far, y in ((96, 44), (302, 44), (302, 382), (96, 382)))
    sheet.parts.append(Path(outline, INK, None, 0.8, closed=True, dashed=True))
    sheet.say(x(199), 60, f"{side.upper()} plate", 10, "middle", bold=True)
    for place, (name, clock, data) in enumerate(force_pins("both", side)):
        top = 78.0 + 104 * place
        left = min(x(112), x(196))
        sheet.block(left, top + 14, 84, 46, (name, "converter", "24 bit, two wires"), fill=SHADE)
        for number, corner in enumerate("LR"):
            y = top + 52 * number
            sheet.block(min(x(232), x(288)), y, 56, 34, (f"{name[0].upper()}{corner}", "cell"), fill=METAL)
            joint = top + 30 + 14 * number
            draw_bus(sheet, (x(232), y + 17), (x(214), y + 17), 4)
            sheet.wire((x(214), y + 17), (x(214), joint), (x(196), joint), width=1.6)
        for number, (word, pin) in enumerate((("clock", clock), ("data", data))):
            y = top + 30 + 16 * number
            sheet.wire((x(112), y), (x(0), y))
            sheet.say(x(54), y - 3, f"{name} {word}", 8, "middle")
            sheet.say(x(-8), y + 3, f"GPIO {pin}", 8.5, "end" if way > 0 else "start", bold=True)
    _heel(sheet, side, x, way)


def _heel(sheet: Sheet, side: str, x: Any, way: int) -> None:
    sheet.block(min(x(112), x(196)), 292, 84, 46, ("heel sensor", "optional", "time of flight, I2C"), fill=SHADE)
    for number, word in enumerate(("scl", "sda")):
        low, high, bend = 306 + 14 * number, 272 + 18 * number, x(30 - 14 * number)
        sheet.wire((x(112), low), (bend, low), (bend, high), (x(0), high))
        sheet.say(x(70), low - 3, f"heel {word.upper()}", 8, "middle")
        pin = PINS[f"{side}_{word}"]
        sheet.say(x(-8), high + 3, f"GPIO {pin}", 8.5, "end" if way > 0 else "start", bold=True)
    sheet.say(x(199), 362, "3V3 and GND to all three;", 8, "middle")
    sheet.say(x(199), 373, "deck to GND by 1 MΩ", 8, "middle")


def _board_foot(sheet: Sheet) -> None:
    light, service = settings("both")["light"], settings("both")["service"]
    rows = (
        (f"GPIO {light}", "light, 1 kΩ"),
        (f"GPIO {service}", "service switch to GND"),
        (f"GPIO {PINS['battery']}", "battery, by 100 kΩ + 100 kΩ"),
    )
    for number, (pin, word) in enumerate(rows):
        x = 362.0 + 59 * number
        sheet.wire((x, 312), (x, 330 + 12 * number))
        sheet.say(x, 306, pin, 7.5, "middle", bold=True)
        sheet.say(x if number < 2 else x + 18, 339 + 12 * number, word, 8, "middle")
    sheet.block(372, 372, 98, 22, ("USB, or battery",), fill=SHADE)
    sheet.wire((421, 372), (421, 366))


def _rules() -> tuple[str, ...]:
    return (
        "Battery, or USB from a computer on its battery. No mains near a patient.",
        "E+, E−, S+, S− of both cells of a pair go to their likes: bridges in parallel.",
        "Excitation 3.0 V from a quiet regulator in each plate, the reference the same.",
        "Filter and clamps before each converter: see its input. Rate strap high: 80 /s.",
        "Cells singly: four converters a plate, with a clock and a data pin each.",
        "Pins are those of the ready-made settings; any free one does: change the settings.",
        "Cells' leads at most 0.3 m, twisted. The cable leaves at the rear, held twice.",
    )


def draw_two_boards() -> Drawing:
    """Return the wiring of the variant with a board for each plate."""
    sheet = Sheet(
        "Wiring, variant: a board for each plate",
        "Two scales, each with its own board and battery, linked by Bluetooth or USB",
    )
    for number, side in enumerate(("left", "right")):
        _own_board(sheet, side, 60.0 + 240 * number)
    sheet.list(560, 70, _two_notes(), 8.8, 13.2)
    return sheet.finish(lengths=False)


def _own_board(sheet: Sheet, side: str, y: float) -> None:
    outline = ((36.0, y - 20), (530.0, y - 20), (530.0, y + 190), (36.0, y + 190))
    sheet.parts.append(Path(outline, INK, None, 0.8, closed=True, dashed=True))
    sheet.say(46, y - 5, f"{side.upper()} plate: a scale of its own", 10, bold=True)
    sheet.block(350, y + 8, 88, 168, fill=BOARD)
    sheet.say(394, y + 100, "board", 9, "middle", bold=True)
    sheet.say(394, y + 112, "in the plate's box", 8, "middle")
    for place, (name, clock, data) in enumerate(force_pins(side, side)):
        top = y + 10 + 92 * place
        for row, corner in enumerate("LR"):
            sheet.block(52, top + 42 * row, 60, 32, (f"{name[0].upper()}{corner}", "cell"), fill=METAL)
            middle = top + 16 + 42 * row
            draw_bus(sheet, (112, middle), (140, middle), 4)
            sheet.wire((140, middle), (140, top + 30 + 14 * row), (166, top + 30 + 14 * row), width=1.6)
        sheet.block(166, top + 14, 92, 46, (name, "converter", "24 bit, two wires"), fill=SHADE)
        for row, (word, pin) in enumerate((("clock", clock), ("data", data))):
            sheet.wire((258, top + 30 + 16 * row), (350, top + 30 + 16 * row))
            sheet.say(304, top + 27 + 16 * row, f"{name} {word}", 8, "middle")
            sheet.say(358, top + 33 + 16 * row, f"GPIO {pin}", 8.5, bold=True)
    for row, word in enumerate(("USB", "battery, charger", "Bluetooth LE")):
        sheet.wire((438, y + 40 + 46 * row), (456, y + 40 + 46 * row), dashed=row == 2)
        sheet.say(460, y + 43 + 46 * row, word, 8)


def _two_notes() -> tuple[str, ...]:
    return (
        "Each plate is a scale: left.json, right.json.",
        "",
        "What it gives:",
        "  no cable between the plates",
        "  one plate can be used, or replaced, alone",
        "",
        "What it gives up:",
        "  one clock. The two are brought together by",
        "  the program, within what a link lets it see:",
        "  a fast shift of the load is less certain.",
        "  See Two scales, two clocks, in docs.",
        "",
        "Two batteries to charge. Never charge while",
        "somebody stands there.",
        "",
        "Heel sensor, light, service switch: as in the",
        "standard build, on the same pins.",
        "",
        "Converters, filters, clamps, shields: the same.",
    )


def draw_half_bridge() -> Drawing:
    """Return how two half-bridge cells are joined to one full bridge."""
    sheet = Sheet(
        "Wiring, variant: half-bridge cells", "Two three-wire cells of a bathroom scale joined to one full bridge"
    )
    sheet.say(
        60,
        60,
        "Two cells with three wires each make one full bridge: one converter for the front, one for the rear",
        11,
        bold=True,
    )
    for x, name, order in ((170.0, "cell FL", ("falls", "rises")), (390.0, "cell FR", ("rises", "falls"))):
        sheet.block(x - 62, 118, 124, 190, fill=METAL)
        sheet.say(x - 54, 134, name, 9, bold=True)
        draw_resistor(sheet, (x, 132), (x, 212), order[0], 13)
        draw_resistor(sheet, (x, 212), (x, 292), order[1], 13)
        sheet.dot(x, 212)
        sheet.wire((x, 132), (x, 92))
        sheet.wire((x, 292), (x, 340))
    sheet.wire((170, 92), (560, 92))
    sheet.wire((170, 340), (560, 340))
    sheet.wire((170, 212), (280, 212), (280, 324), (480, 324), (480, 250), (560, 250))
    sheet.wire((390, 212), (460, 212), (460, 180), (560, 180))
    sheet.dot(390, 92)
    sheet.dot(390, 340)
    sheet.block(560, 76, 110, 282, ("converter", "24 bit, gain 128"), fill=SHADE)
    for y, word in ((92, "E+"), (180, "S−"), (250, "S+"), (340, "E−")):
        sheet.say(552, y - 4, word, 9, "end", bold=True)
    sheet.list(60, 384, _half_notes(), 8.8, 13)
    return sheet.finish(lengths=False)


def _half_notes() -> tuple[str, ...]:
    return (
        "Under load the gauge marked rises has more ohms, the other one less: S+ goes up, S− goes down.",
        "Which wire is which: between the two outer ones a multimeter shows twice what it shows from the middle one.",
        "The second cell is turned round: its outer wires change places. Press on both: the reading has to grow.",
        "Their load goes through a small tongue: keep the holders that they came in, flat on the floor.",
        f"Each bears {FIGURES['half_bridge']['rated_kg']} kg; on the balls of the feet one stands on two of them.",
    )
