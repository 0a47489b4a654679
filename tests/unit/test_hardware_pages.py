"""What the pages of hardware/ work out in words is what comes out, and what they promise of heel raises is so."""

from __future__ import annotations

import math
import re
import shlex
from pathlib import Path

import pytest

from hardware.make import plan
from hardware.make.plan import CELL, DECK, FIGURES, FOOT, GRAVITY, HEEL, LOAD, TOE_STOP
from hardware.make.table import LIVE_HZ, converters, half_bridges, pair
from weightshare import cli
from weightshare.exercise import Basis, Exercise, Tempo
from weightshare.metrology.bridge import counts_per_newton, noise_N, parallel_ratio
from weightshare.metrology.share import live_bandwidth_Hz
from weightshare.model import Side, Trace
from weightshare.pipeline import analyse_trace
from weightshare.scales.rig.body import SUPPORT_MM
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.heel import HeelBuild
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Cast
from weightshare.scales.rig.visit import measured_visit
from weightshare.task import Settings

OWN_N = plan.plate_kg() * GRAVITY
MARGIN = FOOT["y"] - DECK["length"] / 2
WORST_N = max(plan.corner_loads(DECK["width"] / 2, DECK["length"] / 2, LOAD["plate_N"]))
SPACER_EDGE = CELL["hole_to_inner_bolt"] - 13
INNER_BOLT = CELL["hole_to_inner_bolt"] + CELL["bolt_pitch"]
FILTER = FIGURES["filter"]
CORNER_HZ = 1e9 / (2 * math.pi * 2 * FILTER["series_ohm"] * (FILTER["across_nF"] + FILTER["each_nF"] / 2))
SLOW = converters()[1][1]
PAIR_COUNTS = counts_per_newton(pair(), SLOW)
LEAK_V = 1e-9 * CELL["ohm"]
END_MM = math.hypot(CELL["hole_to_free_end"], CELL["width"] / 2)
ROUND_MM = MARGIN * 2**0.5 + DECK["corner_radius"] * (2**0.5 - 1)
FEET = [TOE_STOP[key] - 9 - HEEL["heel_line_y"] for key in ("first_y", "last_y")]
HALF_kg = half_bridges().rated_N / GRAVITY / LOAD["factor"]

WORKED = {
    "mechanics": (
        f"135 kg x 9.81 m/s^2 x 1.5 = {LOAD['factor'] * LOAD['person_kg'] * 9.81:,.0f} N",
        f"2,000 N x {MARGIN:.0f} mm = {2.0 * MARGIN:.0f} N m",
        f"{OWN_N:.0f} N x {FOOT['y']} mm = {OWN_N * FOOT['y'] * 1e-3:.0f} N m",
        f"{END_MM:.1f} mm from the axis",
        f"2,452 N. All of 2,000 N on one corner is {100 * WORST_N / plan.rated_N():.0f} %",
        f"{plan.stress_MPa(LOAD['plate_N']):.1f} MPa",
        f"{WORST_N:,.0f} x {SPACER_EDGE:.1f} / {INNER_BOLT - SPACER_EDGE:.1f} = "
        f"{1e-3 * WORST_N * SPACER_EDGE / (INNER_BOLT - SPACER_EDGE):.1f} kN",
        f"to {CELL['bolt_torque_Nm']} N m an M12 holds about {CELL['bolt_torque_Nm'] / (0.2 * 0.012) * 1e-3:.0f} kN",
        f"= {plan.bending_mm(LOAD['plate_N']):.2f} mm",
        f"{CELL['deflection_at_rated'] * 500 / plan.rated_N():.2f} mm at 500 N",
        f"80 / {2 * FOOT['y']} = {100 * 80 / (2 * FOOT['y']):.0f} %",
        f"it would be {100 * 80 / 600:.0f} %",
        f"{plan.STEP} mm up",
        f"{FEET[0]} to {FEET[1]} mm",
        f"{HEEL['below_top'] + DECK['mat']} mm above it: {HEEL['below_top']} mm to the deck's top",
    ),
    "electrics": (
        f"= {CORNER_HZ / 1000:.1f} kHz",
        f"{4 * 1000 * SLOW.excitation_V / CELL['ohm']:.0f} mA a plate",
        f"{LEAK_V * 1e6:.2f} uV, {LEAK_V / SLOW.excitation_V / pair().ratio_per_newton:.1f} N",
        f"400 ohm and 0.5 % are {400 * (1 / (1 - 0.5 / 100) - 1):.1f} ohm",
        f"reaches {1e3 * SLOW.excitation_V * SLOW.half_range_ratio:.1f} mV",
        f"two periods, {2000 / SLOW.rate_Hz:.0f} ms, one",
        f"that is {25 * 2 / SLOW.rate_Hz:.1f} points at most",
        f"{0.85 * 2200 * 150e-12 * 1e6:.2f} us",
    ),
    "resolution": (
        f"{plan.rated_N():,.1f} x 2) = {pair().ratio_per_newton:.2e}".replace("e-0", "e-"),
        f"= {PAIR_COUNTS:.0f},  so {1 / PAIR_COUNTS:.5f} N a count",
        f"= {noise_N(pair(), SLOW):.3f}",
        f"{2**0.5 * noise_N(pair(), SLOW):.2f} N at 80 a second",
        f"{2e-4 * plan.rated_N():.1f} N",
        f"{1e-3 / 2 * SLOW.counts_per_ratio * 1e-6:.2f} million counts",
    ),
    "variants": (
        f"takes {2 * half_bridges().rated_N:.0f} N together",
        f"corner {half_bridges().rated_N:.0f} N",
        f"a person of {HALF_kg:.0f} kg on one corner, {2 * HALF_kg:.0f} kg on the front edge",
    ),
    "bench-tests": (
        f"{FIGURES['bench']['noise_N'] / 2**0.5:.3f} N for each, at {PAIR_COUNTS:.0f} counts a newton "
        f"{FIGURES['bench']['noise_N'] / 2**0.5 * PAIR_COUNTS:.0f} counts",
        f"It brings {10 * 9.81 * 0.1:.1f} J, and gives by 20 mm or more: {9.81 / 0.02:.0f} N in the mean",
    ),
    "assembly": (f"{ROUND_MM:.0f} mm outside of the deck's rounded corner", f"wrench to {CELL['bolt_torque_Nm']} N m"),
    "README": (f"step of {plan.STEP} mm", f"about {plan.plate_kg():.0f} kg", f"{LOAD['person_kg']} kg at most"),
}
"""What each page says, as the figures have it."""


def flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)


@pytest.mark.parametrize("page", WORKED)
def test_what_is_worked_out_in_words_is_what_comes_out(page: str, checkout: Path) -> None:
    text = flat((checkout / "hardware" / f"{page}.md").read_text(encoding="utf-8"))
    assert [words for words in WORKED[page] if flat(words) not in text] == []


def test_a_cell_of_other_resistance_counts_by_so_much_less() -> None:
    """What electrics.md says of 1 %: each of the two is half a percent off their mean (Millman; Kirchhoff's law)."""
    alone, other = parallel_ratio((1.0, 0.0), (350.0, 353.5)), parallel_ratio((0.0, 1.0), (350.0, 353.5))
    assert 100 * (alone / 0.5 - 1) == pytest.approx(0.5, abs=0.01)
    assert 100 * (1 - other / 0.5) == pytest.approx(0.5, abs=0.01)


def test_the_firmwares_example_of_a_heel_sensor_is_this_builds(checkout: Path) -> None:
    text = (checkout / "hardware" / "firmware" / "README.md").read_text(encoding="utf-8")
    below_mm = HEEL["below_top"] + DECK["mat"]
    assert f"{below_mm} mm below the resting heel" in text and f'"offset": -{below_mm}000' in text
    assert f'"y_mm": {HEEL["y"]}' in text


def test_every_example_can_be_typed(checkout: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = []
    for page in sorted((checkout / "hardware").rglob("*.md")):
        text = page.read_text(encoding="utf-8")
        found += [(page.name, line) for line in re.findall(r"^ {4}weightshare (.+)$", text, re.MULTILINE)]
    assert len(found) >= 6
    for name, line in found:
        try:
            cli.build_parser().parse_args(shlex.split(line.partition(" > ")[0]))
        except SystemExit:
            pytest.fail(f"{name}: {line}: {capsys.readouterr().err}")


def test_the_noise_that_is_left_is_that_of_the_programs_live_filter() -> None:
    assert live_bandwidth_Hz(6.0, 1000.0) == pytest.approx(LIVE_HZ, rel=1e-3)


def moved_out(trace: Trace) -> Trace:
    """Return what supports at the build's feet read where the virtual ones are at SUPPORT_MM; the sides stay."""
    columns = dict(trace.columns)
    for side in ("left", "right"):
        front, rear = columns[f"{side}_front_N"], columns[f"{side}_rear_N"]
        tilt = (front - rear) / 2 * SUPPORT_MM / FOOT["y"]
        columns[f"{side}_front_N"], columns[f"{side}_rear_N"] = (front + rear) / 2 + tilt, (front + rear) / 2 - tilt
    return Trace(trace.time_s, columns)


@pytest.mark.parametrize("person", ["raiser", "tall", "weak", "tiring", "trembling", "pausing", "bouncing"])
def test_heel_raises_are_counted_by_force_on_feet_that_stand_so_far_apart(person: str) -> None:
    tempo = Tempo(1.0, 1.0, 2.0, 1.0)
    task = Task(exercise=Exercise.RAISE, tempo=tempo, sets=1, repetitions=6)
    cast = Cast(PEOPLE[person], FAULTS["clean"], task, seed=5, heels=HeelBuild(fitted=False))
    trace, truth = measured_visit(cast, 30.0 + 1.3 * 6 * tempo.cycle_s, 80.0)
    settings = Settings(Side.LEFT, 50.0, exercise=Exercise.RAISE, basis=Basis.FORCE, tempo=tempo)
    found = analyse_trace(moved_out(trace), settings).repetitions
    true = [one for one in truth["repetitions"] if one["end_s"] is not None]
    assert len(found) == len(true) >= 4
    assert all(abs(one.start_s - other["start_s"]) < 1.0 for one, other in zip(found, true, strict=True))
