"""The plate: its holes from above, and the two plates as they stand."""

from __future__ import annotations

from hardware.make.pencil import METAL, RUBBER, SHADE, STEEL, Sheet, View
from hardware.make.plan import (
    BOX,
    CELL,
    CORNER_NAMES,
    CORNERS,
    DECK,
    FOOT,
    HEEL,
    PAIR,
    TOE_STOP,
    along_cell,
    bolts,
    box_screws,
    feet,
    toe_stop_holes,
)
from weightshare.report.drawing import Drawing, Point


def cell_outline(corner: tuple[int, int]) -> list[Point]:
    """Return the four corners of a cell as seen from above, mm; it lies at 45 degrees."""
    ends = [along_cell(corner, way) for way in (-CELL["hole_to_free_end"], CELL["length"] - CELL["hole_to_free_end"])]
    half = CELL["width"] / 2 * 2**-0.5
    across = (half, -half) if corner[0] == corner[1] else (half, half)
    (ax, ay), (bx, by) = ends
    dx, dy = across
    return [(ax + dx, ay + dy), (bx + dx, by + dy), (bx - dx, by - dy), (ax - dx, ay - dy)]


def draw_drilling() -> Drawing:
    """Return the deck from above with every hole, and a table of where they are."""
    sheet = Sheet("Plate, drilling", "The deck of a plate from above, with all holes and their places")
    view = View(sheet, 1.0, 262.0, 268.0)
    half_w, half_l = DECK["width"] / 2, DECK["length"] / 2
    for corner, (x, y) in zip(CORNERS, feet(), strict=True):
        view.circle(x, y, FOOT["pad_radius"], dashed=True)
        view.shape(cell_outline(corner), None, 0.6, dashed=True)
        view.cross(x, y, 6)
    view.plate(DECK["width"], DECK["length"], DECK["corner_radius"])
    view.rect(
        -BOX["width"] / 2, BOX["y"] - BOX["length"] / 2, BOX["width"] / 2, BOX["y"] + BOX["length"] / 2, dashed=True
    )
    view.line((-half_w - 14, 0), (half_w + 14, 0), dashed=True)
    view.line((0, -half_l - 14), (0, half_l + 14), dashed=True)
    _holes(view)
    _sizes(view, half_w, half_l)
    _hole_table(sheet)
    return sheet.finish("1 point = 1 mm: print at 283 % for full size")


def _holes(view: View) -> None:
    for x, y in bolts():
        view.circle(x, y, CELL["bolt_clearance"] / 2, METAL)
        view.circle(x, y, CELL["bolt"] * 1.0, None)
        view.cross(x, y, 9)
    for x, y in toe_stop_holes():
        view.circle(x, y, 2.1, METAL)
    for x, y in box_screws():
        view.circle(x, y, 2.2, METAL)
        view.cross(x, y, 4)
    view.circle(HEEL["x"], HEEL["y"], HEEL["window"] / 2, METAL)
    view.cross(HEEL["x"], HEEL["y"], 11)


def _sizes(view: View, half_w: float, half_l: float) -> None:
    view.across(-half_w, half_w, -half_l, 62)
    view.across(-FOOT["x"], FOOT["x"], -FOOT["y"], 76, f"{2 * FOOT['x']} between the feet")
    view.upward(-half_l, half_l, -half_w, -58)
    view.upward(-FOOT["y"], FOOT["y"], -FOOT["x"], -76, f"{2 * FOOT['y']} between the feet")
    view.upward(HEEL["y"], 0, half_w, 52)
    view.upward(0, TOE_STOP["first_y"], half_w, 52)
    view.upward(TOE_STOP["first_y"], TOE_STOP["last_y"], half_w, 52, "10 steps of 10")
    view.line((HEEL["x"], HEEL["y"]), (half_w, HEEL["y"]), dashed=True)
    x, y = view.at(0, half_l)
    view.sheet.say(x, y - 40, "FRONT (toes)", 10, "middle", bold=True)
    view.note(*along_cell((1, -1), 62), 52, -26, "cell, at 45°")
    view.note(FOOT["x"] + 17, -FOOT["y"] - 17, 14, 14, f"pad, radius {FOOT['pad_radius']}")


def _hole_table(sheet: Sheet) -> None:
    outer, inner = bolts()[2], bolts()[3]
    (x, front), (_, rear) = box_screws()[1], box_screws()[3]
    rows = [
        ("holes", "x", "y", "what"),
        (
            "4, outer",
            f"± {outer[0]:.1f}",
            f"± {outer[1]:.1f}",
            f"Ø {CELL['bolt_clearance']}, countersunk for M{CELL['bolt']}",
        ),
        ("4, inner", f"± {inner[0]:.1f}", f"± {inner[1]:.1f}", "the same"),
        ("1, heel", f"{HEEL['x']}", f"− {-HEEL['y']}", f"Ø {HEEL['window']}, only with a heel sensor"),
        (
            f"{len(toe_stop_holes())}, toe stop",
            f"± {TOE_STOP['x']}",
            f"{TOE_STOP['first_y']} to {TOE_STOP['last_y']}",
            "M5 through, every 10",
        ),
        ("4, box", f"± {x:.0f}", f"+ {front:.0f}, − {-rear:.0f}", "Ø 4.3, countersunk from above"),
    ]
    sheet.table(474, 70, rows, (72, 56, 72, 140))
    notes = (
        f"Deck: {DECK['width']} × {DECK['length']} × {DECK['thickness']} aluminium, flat within {DECK['flatness']}.",
        f"Corners R {DECK['corner_radius']}; upper edges rounded, R {DECK['edge_radius']}; no burrs.",
        "Origin: the middle of the plate. x to the right, y forward.",
        "Holes within ± 0.2 of their places, outlines within ± 0.5.",
        "Bolt holes by YOUR cell's sheet: pitch and reach differ.",
        "",
        "Dashed: cells and pads under the deck, the box.",
        f"The axes of the feet lie {FOOT['x'] - DECK['width'] / 2:g} mm outside of the deck, on every side:",
        "whoever stands on the deck stands between them.",
        "",
        "Two alike: left and right plate are the same.",
        "",
        "Channels as the firmware tells them:",
        f"front pair (FL and FR) at x 0, y + {FOOT['y']}",
        f"rear pair (RL and RR) at x 0, y − {FOOT['y']}",
        f"heel height at x {HEEL['x']}, y − {-HEEL['y']}",
    )
    sheet.list(474, 172, notes)
    for name, corner in zip(CORNER_NAMES, CORNERS, strict=True):
        x, y = along_cell(corner, 40)
        View(sheet, 1.0, 262.0, 268.0).sheet.say(262.0 + x, 268.0 - y + 3, name, 8.5, "middle")


def draw_pair() -> Drawing:
    """Return both plates, the board's box and the filler, as they stand on the floor."""
    sheet = Sheet(
        "The pair, assembled", "Two plates side by side with the filler between them and the board's box behind"
    )
    scale, middle = 0.74, (DECK["width"] + PAIR["gap"]) / 2
    page = View(sheet, scale, 315.0, 255.0)
    for side, name in ((-1, "LEFT"), (1, "RIGHT")):
        draw_standing(View(sheet, scale, 315.0 + side * middle * scale, 255.0), name)
    page.rect(
        -PAIR["filler_width"] / 2,
        -PAIR["filler_length"] / 2,
        PAIR["filler_width"] / 2,
        PAIR["filler_length"] / 2,
        SHADE,
    )
    for row, word in enumerate(("filler:", "on the", "floor,", "touches", "neither", "plate")):
        sheet.say(315.0, 225.0 + 11 * row, word, 8, "middle")
    page.rect(-70, -312, 70, -262, SHADE)
    page.note(60, -290, 70, 24, "the board's box, on the floor: USB or battery, light, service switch")
    for side in (-1, 1):
        page.line((side * middle, -DECK["length"] / 2), (side * middle, -252), (side * 70, -272), width=1.6)
    page.note(-middle, -240, -50, 30, "cable, 1 m, slack")
    page.across(-PAIR["gap"] / 2, PAIR["gap"] / 2, DECK["length"] / 2, -46, f"{PAIR['gap']}")
    inner = middle - FOOT["x"] - FOOT["pad_radius"]
    page.across(-inner, inner, -FOOT["y"], 30, f"{2 * inner:g} between pads")
    page.across(-middle, middle, DECK["length"] / 2, -70, f"{2 * middle:g} from middle to middle")
    sheet.list(612, 90, _pair_notes())
    return sheet.finish()


def draw_standing(view: View, name: str = "") -> None:
    """Draw a plate as it stands, from above."""
    for corner, (x, y) in zip(CORNERS, feet(), strict=True):
        view.circle(x, y, FOOT["pad_radius"], RUBBER)
        view.shape(cell_outline(corner), STEEL, 0.6)
    view.plate(DECK["width"], DECK["length"], DECK["corner_radius"], METAL)
    view.rect(-DECK["width"] / 2 + 8, -DECK["length"] / 2 + 8, DECK["width"] / 2 - 8, DECK["length"] / 2 - 8, SHADE)
    half = TOE_STOP["length"] / 2
    view.rect(-half, 130, half, 148, METAL)
    for side in (-1, 1):
        view.circle(side * TOE_STOP["x"], 139, 3, RUBBER)
    view.circle(HEEL["x"], HEEL["y"], HEEL["window"] / 2, RUBBER)
    view.line((-70, HEEL["heel_line_y"]), (70, HEEL["heel_line_y"]), width=1.4)
    if not name:
        return
    x, y = view.at(0, 30)
    view.sheet.say(x, y, name, 13, "middle", bold=True)
    x, y = view.at(0, HEEL["heel_line_y"] - 16)
    view.sheet.say(x, y, "back of the heel here", 7.5, "middle")


def _pair_notes() -> tuple[str, ...]:
    return (
        "Hard, level floor; no carpet, no mat.",
        "Both plates at one height.",
        "",
        "At the FRONT: a rail, a heavy table",
        "or a door frame, within reach.",
        "",
        "Behind: a landing board as high as the",
        "plates, for those who climb no step.",
        "",
        "Nothing touches a plate but its feet",
        "and the person: cables slack, filler",
        "free on both sides.",
        "",
        "L and R are on the plates, on the",
        "cables and on the box, in letters.",
    )
