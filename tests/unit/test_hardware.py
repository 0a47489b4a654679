"""The build of hardware/: it cannot be tipped, nothing is in the way; pages, drawings and settings agree."""

from __future__ import annotations

import csv
import itertools
import math
import re
import sys
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import nnls

from hardware.make import __main__ as making
from hardware.make import plan
from hardware.make.__main__ import DRAWINGS, make
from hardware.make.page import fill
from hardware.make.pencil import HEIGHT, MARGIN, WIDTH
from hardware.make.plan import BOX, CORNERS, DECK, FIGURES, FOOT, HEEL, LOAD, TOE_STOP
from hardware.make.plate import cell_outline
from hardware.make.table import forward_share, seen_percent
from weightshare.pipeline.forefoot import FORWARD
from weightshare.report.drawing import Point, Words
from weightshare.scales.rig.body import seen_part

HALF_W, HALF_L = DECK["width"] / 2, DECK["length"] / 2
ON_DECK = st.tuples(st.floats(-HALF_W, HALF_W), st.floats(-HALF_L, HALF_L))
PAGES = (
    "README",
    "mechanics",
    "electrics",
    "resolution",
    "parts",
    "assembly",
    "variants",
    "bench-tests",
    "bench-sheet",
)


def test_pages_and_drawings_are_what_the_figures_make_of_them() -> None:
    """Whoever fails here runs `python -m hardware.make`."""
    stale = [path.name for path, text in make().items() if path.read_text(encoding="utf-8") != text]
    assert stale == []


def test_the_feet_stand_outside_of_the_deck_on_every_side() -> None:
    assert FOOT["x"] - HALF_W >= 5 and FOOT["y"] - HALF_L >= 5


@given(ON_DECK)
def test_nobody_can_tip_it(place: Point) -> None:
    """With 1.5 times the heaviest person anywhere, all that presses is borne, and by feet that press on the floor."""
    load_N = max(LOAD["plate_N"], LOAD["factor"] * LOAD["person_kg"] * plan.GRAVITY)
    loads = plan.corner_loads(*place, load_N)
    own_N = plan.plate_kg() * plan.GRAVITY
    assert min(loads) >= 0.0
    assert sum(loads) == pytest.approx(load_N + own_N)
    for axis, along in enumerate(place):
        turning = sum(bears * foot[axis] for bears, foot in zip(loads, plan.feet(), strict=True))
        assert turning == pytest.approx(load_N * along, abs=1e-6 * load_N)


def test_a_plate_without_the_margin_would_be_found_to_tip(monkeypatch: pytest.MonkeyPatch) -> None:
    """The calculation can fail: feet 15 mm inside of the deck's front edge leave the rear ones in the air."""
    monkeypatch.setitem(FOOT, "y", HALF_L - 15)
    assert min(plan.corner_loads(0.0, HALF_L, 2000.0)) < 0.0


@given(ON_DECK)
def test_what_the_feet_bear_is_the_least_work_of_four_springs_that_only_push(place: Point) -> None:
    """Castigliano: of all loads in balance, equal springs take those of least energy; found by a general solver."""
    load_N, own_N = 2000.0, plan.plate_kg() * plan.GRAVITY
    balance = np.vstack([np.ones(4), np.array(plan.feet()).T / 200.0])
    asked = np.array([load_N + own_N, load_N * place[0] / 200.0, load_N * place[1] / 200.0])
    strict = 1e4  # the balance has to hold; the least work comes after it
    found, _ = nnls(np.vstack([strict * balance, np.eye(4)]), np.concatenate([strict * asked, np.zeros(4)]))
    assert plan.corner_loads(*place, load_N) == pytest.approx(found, abs=0.01)


def test_no_cell_bears_more_than_it_is_rated_for() -> None:
    worst = max(max(plan.corner_loads(x, y, LOAD["plate_N"])) for x in (0, HALF_W) for y in (0, HALF_L))
    assert worst < 0.8 * plan.rated_N()


def test_what_presses_on_the_end_of_a_cell_presses_within_its_pad() -> None:
    for corner, foot in zip(CORNERS, plan.feet(), strict=True):
        ends = sorted(math.dist(point, foot) for point in cell_outline(corner))[:2]
        assert max(ends) < FOOT["pad_radius"]


def test_the_deck_bends_as_numbers_integrated_along_it_say() -> None:
    """Moment F x / 2 up to the middle; slope and deflection by summing up M / EI, without the closed formula."""
    span, n = 2e-3 * FOOT["y"], 200_001
    x = np.linspace(0.0, span / 2, n)
    stiffness = DECK["youngs_GPa"] * 1e9 * DECK["width"] * 1e-3 * (DECK["thickness"] * 1e-3) ** 3 / 12
    curvature = 2000.0 * x / 2 / stiffness
    slope_left = np.trapezoid(curvature, x) - np.concatenate(
        [[0], np.cumsum((curvature[1:] + curvature[:-1]) / 2) * x[1]]
    )
    assert plan.bending_mm(2000.0) == pytest.approx(1e3 * np.trapezoid(slope_left, x), rel=1e-6)
    assert plan.bending_mm(2000.0) < FIGURES["bench"]["load_deflection_mm"]
    assert plan.stress_MPa(2000.0) < DECK["yield_MPa"] / 4


def overlap(one: list[Point], other: list[Point]) -> bool:
    """Return whether two convex shapes overlap: no edge of either has them on its two sides (separating axes)."""
    for shape in (one, other):
        for (ax, ay), (bx, by) in itertools.pairwise([*shape, shape[0]]):
            ours, theirs = ([(bx - ax) * (y - ay) - (by - ay) * (x - ax) for x, y in s] for s in (one, other))
            if max(ours) <= min(theirs) or max(theirs) <= min(ours):
                return False
    return True


def square(x: float, y: float, half_x: float, half_y: float | None = None) -> list[Point]:
    half = half_x if half_y is None else half_y
    return [(x - half_x, y - half), (x + half_x, y - half), (x + half_x, y + half), (x - half_x, y + half)]


def test_nothing_under_the_deck_is_in_the_way_of_anything() -> None:
    cells = [cell_outline(corner) for corner in CORNERS]
    box = square(0, BOX["y"], BOX["width"] / 2, BOX["length"] / 2)
    sensor = square(HEEL["x"], HEEL["y"], 13)
    screws = [square(x, y, 4) for x, y in plan.toe_stop_holes()]
    things = [*cells, box, sensor, *screws]
    hits = [(i, j) for i, j in itertools.combinations(range(len(things)), 2) if overlap(things[i], things[j])]
    assert [pair for pair in hits if min(pair) < 6] == []
    assert plan.UNDER_DECK - BOX["height"] > 10


def test_every_hole_has_metal_around_it() -> None:
    holes = [(x, y, 12.0) for x, y in plan.bolts()]
    holes += [(x, y, 2.5) for x, y in (*plan.toe_stop_holes(), *plan.box_screws())]
    holes += [(HEEL["x"], HEEL["y"], HEEL["window"] / 2)]
    for x, y, radius in holes:
        assert abs(x) + radius < HALF_W - 8 and abs(y) + radius < HALF_L - 5
    for (ax, ay, ar), (bx, by, br) in itertools.combinations(holes, 2):
        assert math.dist((ax, ay), (bx, by)) > ar + br + 1


def test_the_sensor_sees_all_of_its_cone_through_the_window() -> None:
    seen = HEEL["below_top"] * math.tan(math.radians(HEEL["cone_deg"] / 2))
    assert seen < HEEL["window"] / 2


def test_the_two_plates_feet_do_not_meet() -> None:
    between = DECK["width"] + FIGURES["pair"]["gap"] - 2 * (FOOT["x"] + FOOT["pad_radius"])
    assert between >= FIGURES["pair"]["pad_clearance"]
    assert FIGURES["pair"]["filler_width"] < FIGURES["pair"]["gap"] - 10
    assert FIGURES["pair"]["filler_length"] / 2 < FOOT["y"] - FOOT["pad_radius"]


def test_a_heel_forty_millimetres_too_far_forward_is_seen_as_the_virtual_one_is() -> None:
    """182 mm from heel to ball: 1 - 40 / 182 = 78 %; people and sensors of the rig are apart from this table."""
    assert round(seen_percent(40)) == 78
    assert seen_percent(40) == pytest.approx(100 * seen_part(40, 1.72), abs=0.05)


def test_a_rise_on_to_the_ball_of_the_foot_is_seen_by_the_program() -> None:
    """The load goes forward by about 80 mm (a heel raise of the virtual person); the program asks for FORWARD."""
    assert forward_share(80) > 1.5 * FORWARD


def test_the_firmware_tells_the_places_that_were_drilled() -> None:
    for name in ("both", "left", "right"):
        forces = [one for one in plan.settings(name)["channels"] if one["quantity"] == "force"]
        assert {abs(one["y_mm"]) for one in forces} == {FOOT["y"]}
        heels = [one for one in plan.settings(name)["channels"] if one["quantity"] == "heel height"]
        assert all((one["x_mm"], one["y_mm"]) == (HEEL["x"], HEEL["y"]) for one in heels)


def test_what_the_settings_leave_out_has_pins_of_its_own() -> None:
    settings = plan.settings("both")
    taken = [settings["light"], settings["service"]]
    taken += [one[role] for one in settings["channels"] for role in ("clock", "data") if role in one]
    taken += [bus[role] for bus in settings["buses"] for role in ("scl", "sda")] if settings["buses"] else []
    spare = list(FIGURES["pins"].values())
    assert len(set(spare)) == len(spare)
    assert settings["buses"] or not set(spare) & set(taken)


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_drawing_is_whole_and_keeps_within_its_frame(name: str, checkout: Path) -> None:
    """Letters are taken as 0.56 of their size wide, which is more than a mean one of the font that is asked for."""
    ElementTree.parse(checkout / "hardware" / "drawings" / f"{name}.svg")
    drawing = DRAWINGS[name]()
    assert drawing.title
    for part in drawing.parts:
        if isinstance(part, Words) and not part.turned:
            width = 0.56 * part.size * len(part.text)
            left = part.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[part.anchor] * width
            assert left >= MARGIN and left + width <= WIDTH - MARGIN, part.text
            assert MARGIN <= part.y <= HEIGHT - MARGIN, part.text
        elif not isinstance(part, Words):
            assert all(MARGIN <= x <= WIDTH - MARGIN and MARGIN <= y <= HEIGHT - MARGIN for x, y in part.points)


def test_every_drawing_and_every_page_is_shown(checkout: Path) -> None:
    pages = {name: (checkout / "hardware" / f"{name}.md").read_text(encoding="utf-8") for name in PAGES}
    assert [name for name in DRAWINGS if f"drawings/{name}.svg" not in "".join(pages.values())] == []
    assert [name for name in PAGES[1:] if f"({name}.md)" not in pages["README"]] == []
    assert {path.stem for path in (checkout / "hardware").glob("*.md")} == set(PAGES)


def test_the_parts_are_enough_for_the_pair(checkout: Path) -> None:
    with (checkout / "hardware" / "parts.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    assert {len(row) for row in rows} == {4}
    count = {row[0]: int(row[1]) for row in rows[1:]}
    assert (count["deck"], count["load cell"], count["spacer"], count["foot"]) == (2, 8, 8, 8)
    assert count["bolt"] == 2 * len(plan.bolts())
    assert count["converter"] == len(plan.settings("both")["channels"]) - 2 * bool(plan.settings("both")["buses"])
    assert count["series resistor"] == count["clamp"] == 2 * count["converter"]


def test_bench_and_calibration_have_the_same_limits(checkout: Path) -> None:
    """What calibration/README.md stops at, and what a plate passes at on the bench."""
    bench, told = FIGURES["bench"], (checkout / "calibration" / "README.md").read_text(encoding="utf-8")
    for words, key in (
        (r"a quarter reads ([\d.]+) %", "quarter_percent"),
        (r"hysteresis over ([\d.]+) %", "hysteresis_percent"),
        (r"repeatability over ([\d.]+) N", "repeatability_N"),
        (r"creep over ([\d.]+) %", "creep_percent"),
        (r"no return to zero within ([\d.]+) N", "return_N"),
    ):
        found = re.search(words, told)
        assert found and float(found[1]) == bench[key]


def test_the_screws_of_the_toe_stop_are_where_feet_of_all_lengths_end() -> None:
    """Feet from 220 to 310 mm, the bar's edge 9 mm before its holes; adults' feet are 220 to 300 (from memory)."""
    reach = [y - 9 - HEEL["heel_line_y"] for y in (TOE_STOP["first_y"], TOE_STOP["last_y"])]
    assert reach[0] <= 220 and reach[1] >= 310


def test_what_is_out_of_date_is_said_and_then_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    page = tmp_path / "page.md"
    page.write_text("of last year", encoding="utf-8")
    monkeypatch.setattr(making, "HERE", tmp_path)
    monkeypatch.setattr(making, "make", lambda: {page: "of today"})
    monkeypatch.setattr(sys, "argv", ["make", "--check"])
    assert (making.main(), page.read_text(encoding="utf-8")) == (1, "of last year")
    monkeypatch.setattr(sys, "argv", ["make"])
    assert (making.main(), page.read_text(encoding="utf-8")) == (0, "of today")
    monkeypatch.setattr(sys, "argv", ["make", "--check"])
    assert making.main() == 0
    assert capsys.readouterr().out == "page.md\npage.md\n"


def test_a_page_keeps_what_is_not_between_the_marks() -> None:
    text = "before\n<!-- table: placement -->\nold\n<!-- end -->\nafter\n"
    made = fill(text)
    assert made.startswith("before\n") and made.endswith("<!-- end -->\nafter\n") and "old" not in made
    assert "| 40 mm | 78 % | 70 mm |" in made and fill(made) == made
    with pytest.raises(KeyError):
        fill(text.replace("placement", "nonsense"))
