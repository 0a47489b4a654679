"""How high everything is: the plate from its side, one cell cut along its length; the steps of assembly."""

from __future__ import annotations

from hardware.make.pencil import METAL, RUBBER, SHADE, STEEL, Sheet, View
from hardware.make.plan import (
    BOX,
    CELL,
    DECK,
    DECK_TOP,
    FOOT,
    HEEL,
    STEP,
    TOE_STOP,
    UNDER_CELL,
    UNDER_DECK,
    along_cell,
)
from hardware.make.plate import draw_standing
from weightshare.report.drawing import Drawing


def draw_side() -> Drawing:
    """Return the plate from its right side."""
    sheet = Sheet("Plate from the side", "The plate from its side, with its heights and the play under it")
    view = View(sheet, 1.55, 421.0, 262.0)
    view.line((-246, 0), (246, 0), width=1.6)
    _side(view)
    half = DECK["length"] / 2
    for y in (UNDER_CELL, UNDER_DECK):
        view.line((-half - 20, y), (-half - 6, y))
    view.upward(0, UNDER_CELL, -FOOT["y"] - FOOT["pad_radius"], -14)
    view.upward(UNDER_CELL, UNDER_DECK, -half, -76, f"{CELL['height']} + {CELL['spacer']}")
    view.upward(UNDER_DECK, DECK_TOP, -half, -76)
    view.upward(0, STEP, half, 80, f"{STEP} to step up")
    view.across(-FOOT["y"], FOOT["y"], 0, 34)
    view.across(-half, half, STEP, -60)
    view.across(HEEL["y"], 0, STEP, -30)
    view.note(40, STEP - 1, 20, -84, f"anti-slip mat, {DECK['mat']}: closed surface, wiped after each person")
    view.note(139, STEP + 8, 16, -38, "toe stop")
    view.note(half - 1, DECK_TOP - 1, -20, 44, f"edge R {DECK['edge_radius']}, bright strip")
    view.note(BOX["y"] + 30, UNDER_DECK - 14, 20, 42, "converters' box")
    view.note(-FOOT["y"] + 12, 4, 20, 20, "foot: does not swivel")
    view.note(HEEL["y"], UNDER_DECK - 6, 26, 52, "heel sensor, and its window above")
    sheet.list(60, 420, _side_notes())
    return sheet.finish()


def _side(view: View) -> None:
    half = DECK["length"] / 2
    for side in (-1, 1):
        y = side * FOOT["y"]
        r = FOOT["pad_radius"]
        view.rect(y - r, 0, y + r, FOOT["rubber"], RUBBER)
        view.rect(y - r + 2, FOOT["rubber"], y + r - 2, FOOT["rubber"] + 6, STEEL)
        view.rect(y - 9, FOOT["rubber"] + 6, y + 9, UNDER_CELL, STEEL)
        ends = [side * abs(along_cell((1, 1), w)[1]) for w in (-27.0, CELL["length"] - 5.0)]
        view.rect(min(ends), UNDER_CELL, max(ends), UNDER_CELL + CELL["height"], STEEL)
        inner = side * abs(along_cell((1, 1), CELL["hole_to_inner_bolt"] + CELL["bolt_pitch"] + 13)[1])
        outer = side * abs(along_cell((1, 1), CELL["hole_to_inner_bolt"] - 13)[1])
        view.rect(min(inner, outer), UNDER_DECK - CELL["spacer"], max(inner, outer), UNDER_DECK, METAL)
    view.rect(BOX["y"] - BOX["length"] / 2, UNDER_DECK - BOX["height"], BOX["y"] + BOX["length"] / 2, UNDER_DECK, SHADE)
    view.rect(-half, UNDER_DECK, half, DECK_TOP, METAL)
    view.rect(-half + 8, DECK_TOP, half - 8, STEP, RUBBER)
    view.rect(130, STEP, 148, STEP + TOE_STOP["height"], METAL)
    r = HEEL["window"] / 2
    view.rect(HEEL["y"] - r, UNDER_DECK, HEEL["y"] + r, STEP, SHADE)
    view.rect(HEEL["y"] - 10, UNDER_DECK - 8, HEEL["y"] + 10, UNDER_DECK - 3, SHADE)


def _side_notes() -> tuple[str, ...]:
    return (
        "Front (toes) is on the right. Cells lie at 45 degrees, and look shorter here than they are.",
        f"The heel sensor looks up through its window, {HEEL['below_top']} below the deck's top; sealed against water.",
        f"From the floor: rubber {FOOT['rubber']}, disc 6, nut 6, cell {CELL['height']}, spacer {CELL['spacer']}, "
        f"deck {DECK['thickness']}, mat {DECK['mat']}: {STEP} in all.",
        "Under each cell's free end and under the box there is air: nothing but the pads touches the floor.",
    )


def draw_mount() -> Drawing:
    """Return one cell, cut along its length, with bolts, spacer and foot."""
    sheet = Sheet("Cell and foot", "One load cell cut along its length, with its bolts, its spacer and its foot")
    view = View(sheet, 3.2, 300.0, 340.0)
    view.line((-34, 0), (134, 0), width=1.6)
    draw_cell(view)
    free, fixed = -CELL["hole_to_free_end"], CELL["length"] - CELL["hole_to_free_end"]
    b1, b2 = CELL["hole_to_inner_bolt"], CELL["hole_to_inner_bolt"] + CELL["bolt_pitch"]
    view.across(free, 0, 0, 34, f"{CELL['hole_to_free_end']}")
    view.across(0, b1, 0, 34, f"{b1}")
    view.across(b1, b2, 0, 34, f"{CELL['bolt_pitch']}")
    view.across(free, fixed, 0, 56, f"{CELL['length']}")
    view.upward(0, UNDER_CELL, fixed, 90)
    view.upward(UNDER_CELL, UNDER_CELL + CELL["height"], fixed, 90)
    view.upward(UNDER_CELL + CELL["height"], UNDER_DECK, fixed, 90, f"{CELL['spacer']} spacer")
    view.upward(UNDER_DECK, DECK_TOP, fixed, 90)
    _mount_notes(view, b1, b2)
    sheet.list(60, 466, _mount_words())
    return sheet.finish("sectioned along the cell, which lies at 45° under the deck")


def draw_cell(view: View, *, deck: bool = True, foot: bool = True) -> None:
    """Draw a cell from its load hole's axis (x = 0) inwards, with the deck on it and the foot under it."""
    free, fixed = -CELL["hole_to_free_end"], CELL["length"] - CELL["hole_to_free_end"]
    b1, b2 = CELL["hole_to_inner_bolt"], CELL["hole_to_inner_bolt"] + CELL["bolt_pitch"]
    top = UNDER_CELL + CELL["height"]
    view.rect(free, UNDER_CELL, fixed, top, STEEL)
    if foot:
        _foot(view, top)
    if not deck:
        return
    edge = (FOOT["x"] - DECK["width"] / 2) * 2**0.5
    view.rect(edge, UNDER_DECK, fixed + 20, DECK_TOP, METAL)
    view.rect(edge + 11, DECK_TOP, fixed + 20, STEP, RUBBER)
    view.rect(b1 - 13, top, fixed, UNDER_DECK, METAL)
    for x in (b1, b2):
        view.shape(
            ((x - 12, DECK_TOP), (x + 12, DECK_TOP), (x + 6, DECK_TOP - 6.5), (x - 6, DECK_TOP - 6.5)), SHADE, 0.8
        )
        view.rect(x - 6, UNDER_CELL - 14, x + 6, DECK_TOP - 6.5, SHADE)
        view.rect(x - 9.5, UNDER_CELL - 10.8, x + 9.5, UNDER_CELL, STEEL)
        view.line((x, UNDER_CELL - 18), (x, DECK_TOP + 6), dashed=True)


def _foot(view: View, top: float) -> None:
    r = FOOT["pad_radius"]
    view.rect(-r, 0, r, FOOT["rubber"], RUBBER)
    view.rect(-r + 2, FOOT["rubber"], r - 2, FOOT["rubber"] + 6, STEEL)
    view.rect(-9, FOOT["rubber"] + 6, 9, UNDER_CELL, STEEL)
    view.rect(-6, UNDER_CELL, 6, top - 2, SHADE)
    view.line((0, -6), (0, top + 10), dashed=True)


def _mount_notes(view: View, b1: float, b2: float) -> None:
    edge = (FOOT["x"] - DECK["width"] / 2) * 2**0.5
    view.note(edge, DECK_TOP - 4, -40, -58, f"deck's corner: {edge:.0f} inside of the foot's axis")
    view.note(28, UNDER_CELL + 34, -76, -84, f"{CELL['spacer']} of air: the free end moves")
    view.note(
        b1,
        DECK_TOP - 2,
        -20,
        -88,
        f"2 × M12 × 65, countersunk, 8.8; tightened to {CELL['bolt_torque_Nm']} N m or by the cell's sheet",
    )
    view.note(b2, UNDER_CELL - 6, -40, 118, "nut and washer, or threaded into the cell")
    view.note(56, UNDER_CELL + 12, -10, 18, "cell; its cable glued down")
    view.note(-6, UNDER_CELL - 3, -90, -8, "nut, locks the foot")
    view.note(-20, FOOT["rubber"] + 3, -50, 18, "steel disc with a stud M12")
    view.note(-20, 4, -50, 40, "rubber, 60 Shore A, bonded on")


def _mount_words() -> tuple[str, ...]:
    return (
        "The arrow at the cell's free end points up, to the deck: there the floor pushes up.",
        "If a plate reads negative when somebody stands on it, swap S+ and S− of that cell; do not turn the cell.",
        "Level by the four studs: lay a spirit level both ways, then press on each corner in turn. It must not rock.",
        f"Pad radius {FOOT['pad_radius']}: more than the cell's end reaches out, so no press there tips it.",
    )


STEPS = (
    ("1  Drill", "Deck face down on wood. Drill by", "the drawing, countersink, tap, deburr.", "Wipe off all oil."),
    (
        "2  Bolt on the cells",
        "Spacer, cell, two bolts each; the free",
        "end's arrow to the deck. Torque, then",
        "a paint mark. Leads inwards.",
    ),
    (
        "3  Feet",
        "Stud into each free end by hand, nut",
        "loose. Hold the free end while you turn",
        "a nut: the cell is no lever.",
    ),
    (
        "4  Box and cable",
        "Converters in, cells' leads short,",
        "strain relief at box and deck's rear.",
        "Test before the lid goes on.",
    ),
    (
        "5  Turn over, level",
        "Two people. Studs until level and",
        "nothing rocks; then lock the nuts.",
        "Window and mat, glued.",
    ),
    (
        "6  Beside its twin",
        "Gap, filler, landing board, rail.",
        "Labels L and R. Bench tests,",
        "then the calibration.",
    ),
)


def draw_assembly() -> Drawing:
    """Return six small pictures, one for each step of putting a plate together."""
    sheet = Sheet("Assembly, step by step", "Six steps: drill, cells, feet, box and cable, level, beside its twin")
    for number, (name, *words) in enumerate(STEPS):
        x, y = 36.0 + 262.0 * (number % 3), 40.0 + 254.0 * (number // 3)
        sheet.block(x, y, 246, 236)
        sheet.say(x + 10, y + 18, name, 11, bold=True)
        sheet.list(x + 10, y + 194, words, 9, 12.5)
        _picture(sheet, number, x, y)
    return sheet.finish()


def _picture(sheet: Sheet, number: int, x: float, y: float) -> None:
    flipped = number < 4
    view = View(sheet, 0.5, x + 123, y + 108)
    half, up = DECK["length"] / 2, -1 if flipped else 1
    if number == 5:
        for side in (-1, 1):
            draw_standing(View(sheet, 0.32, x + 123 + side * 58, y + 103))
        return

    def bar(a: float, b: float, low: float, high: float, fill: str) -> None:
        view.rect(a, up * (low - 40), b, up * (high - 40), fill)

    bar(-half, half, UNDER_DECK, DECK_TOP, METAL)
    for side in (-1, 1):
        for hole in ((94.1, 6), (126.2, 6), (144.1, 6)) if number == 0 else ():
            bar(side * hole[0] - hole[1], side * hole[0] + hole[1], UNDER_DECK, DECK_TOP, SHADE)
        if number >= 1:
            bar(side * 100, side * 216, UNDER_CELL, UNDER_CELL + CELL["height"], STEEL)
            bar(side * 104, side * 150, UNDER_DECK - CELL["spacer"], UNDER_DECK, METAL)
        if number >= 2:
            bar(side * FOOT["y"] - 25, side * FOOT["y"] + 25, 0, FOOT["rubber"], RUBBER)
            bar(side * FOOT["y"] - 6, side * FOOT["y"] + 6, FOOT["rubber"], UNDER_CELL, STEEL)
    if number >= 3:
        bar(BOX["y"] - 45, BOX["y"] + 45, UNDER_DECK - BOX["height"], UNDER_DECK, SHADE)
        level = up * (UNDER_DECK - 12 - 40)
        view.line((BOX["y"] - 45, level), (-half - 20, level), (-half - 46, level + 20 * up), width=1.6)
    if number == 4:
        bar(-half + 8, half - 8, DECK_TOP, STEP, RUBBER)
        view.line((-230, -40), (230, -40), width=1.4)
        view.rect(-60, STEP - 40, 60, STEP - 40 + 22, "#ffffff")
        view.circle(0, STEP - 40 + 11, 6, METAL)
    if number == 0:
        view.rect(-half - 20, -58 - 26, half + 20, -58 + 12, "#ead9bd")
