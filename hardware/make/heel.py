"""Where the heel's height is measured, and where the toe stop goes so that the heel is over the sensor."""

from __future__ import annotations

from hardware.make.pencil import METAL, QUIET, RUBBER, SHADE, Sheet, View
from hardware.make.plan import DECK, DECK_TOP, HEEL, STEP, TOE_STOP, UNDER_DECK
from hardware.make.table import PLACEMENTS_MM, seen_percent
from weightshare.report.drawing import Drawing

BAR = 18
"""How deep the toe stop's bar is; its holes are in the middle of it."""
HOLE_Y = 130
FOOT_MM = HOLE_Y - BAR // 2 - HEEL["heel_line_y"]
"""The foot that is drawn: the one for which the bar is screwed on at HOLE_Y."""
SOLE = (
    *((0.0, 0.0), (0.004, 0.03), (0.02, 0.065), (0.05, 0.095), (0.1, 0.118), (0.16, 0.125), (0.25, 0.122)),
    *((0.35, 0.115), (0.45, 0.12), (0.55, 0.138), (0.65, 0.16), (0.72, 0.168), (0.8, 0.168), (0.87, 0.158)),
    *((0.93, 0.13), (0.97, 0.09), (0.99, 0.05), (1.0, 0.0)),
)
"""Half of a foot's outline: part of its length from the heel, and half its width in parts of its length."""


def draw_heel() -> Drawing:
    """Return the heel sensor from above and from the side, and what a foot too far forward costs."""
    sheet = Sheet(
        "Heel sensor and toe stop",
        "Where the heel goes, where the toe stop goes, and what a foot too far forward costs",
    )
    _from_above(View(sheet, 0.98, 226.0, 276.0))
    _from_the_side(View(sheet, 0.95, 598.0, 214.0))
    rows = [("forward of the sensor", "reads", "of 90 mm"), *_rows()]
    sheet.table(450, 300, rows, (120, 60, 80))
    sheet.list(440, 392, _notes(), 8.2, 13)
    return sheet.finish()


def _rows() -> list[tuple[str, str, str]]:
    return [(f"{mm} mm", f"{seen_percent(mm):.0f} %", f"{0.9 * seen_percent(mm):.0f} mm") for mm in PLACEMENTS_MM]


def _from_above(view: View) -> None:
    view.plate(DECK["width"], DECK["length"], DECK["corner_radius"], METAL)
    stop = HEEL["heel_line_y"] + FOOT_MM
    outline = [(w * FOOT_MM, HEEL["heel_line_y"] + t * FOOT_MM) for t, w in SOLE]
    view.shape([*outline, *((-x, y) for x, y in reversed(outline))], SHADE, 0.8)
    view.circle(HEEL["x"], HEEL["y"], HEEL["window"] / 2, RUBBER)
    view.line((-95, HEEL["heel_line_y"]), (95, HEEL["heel_line_y"]), width=1.6)
    half = TOE_STOP["length"] / 2
    for y in range(TOE_STOP["first_y"], TOE_STOP["last_y"] + 1, TOE_STOP["pitch"]):
        for side in (-1, 1):
            view.circle(side * TOE_STOP["x"], y, 2.1, "#ffffff")
    view.rect(-half, stop, half, stop + BAR, METAL)
    for side in (-1, 1):
        view.circle(side * TOE_STOP["x"], HOLE_Y, 3, RUBBER)
    ball = HEEL["y"] + HEEL["ball_mm"]
    view.line((-60, ball), (60, ball), dashed=True, colour=QUIET)
    right = DECK["width"] / 2
    view.upward(HEEL["heel_line_y"], stop, right, 20, f"foot's length, here {FOOT_MM}")
    view.upward(HEEL["y"], ball, -right, -20, f"{HEEL['ball_mm']} to the ball, at 1.72 m of stature")
    view.upward(HEEL["heel_line_y"], HEEL["y"], -right, -44)
    view.note(90, HOLE_Y, 66, -34, "toe stop")
    view.note(-88, HEEL["heel_line_y"], -28, 64, "heel line")
    view.note(HEEL["x"] + 5, HEEL["y"], 56, 66, "window, the sensor under it")


def _from_the_side(view: View) -> None:
    left, right = -170, 190
    view.rect(left, UNDER_DECK, right, DECK_TOP, METAL)
    view.rect(left + 6, DECK_TOP, right - 6, STEP, RUBBER)
    r, y = HEEL["window"] / 2, HEEL["y"]
    view.rect(y - r, UNDER_DECK, y + r, STEP, "#ffffff")
    face = DECK_TOP - HEEL["below_top"]
    view.rect(y - 9, face - 6, y + 9, face, SHADE)
    ball, lift = HEEL["y"] + HEEL["ball_mm"], 90.0
    view.line((HEEL["heel_line_y"], STEP + lift), (ball, STEP), (ball + 76, STEP), width=2.6)
    view.line((y, face), (y, STEP + lift * 0.945), dashed=True)
    stop = HEEL["heel_line_y"] + FOOT_MM
    view.rect(stop, STEP, stop + BAR, STEP + TOE_STOP["height"], METAL)
    view.upward(STEP, STEP + lift, HEEL["heel_line_y"], -24, "height")
    view.upward(face, DECK_TOP, right, 18)
    view.note(ball, STEP, 10, -46, "the foot turns about the ball")
    view.note(y, face - 3, 26, 22, "sensor looks up, sees a cone of 25°")


def _notes() -> tuple[str, ...]:
    return (
        "Set the toe stop once for each person: back of the heel at the line, the bar",
        f"against the toes, both screws in. A hole at y fits a foot of y + {FOOT_MM - HOLE_Y}.",
        "A foot that is set down further forward reads too little, by the table: it turns",
        "about the ball, and the sensor sees the sole where it has risen less.",
        "Bare foot or the same shoe each time: a shoe with a raised heel is another foot.",
        "The window is flush, sealed, wiped with the mat. A drop on it is a false height.",
        "The sensor's light is invisible and of laser class 1 (IEC 60825-1, from memory):",
        "buy one that its maker declares so, and add no lens.",
    )
