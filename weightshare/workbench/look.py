"""Whether what lies on the plates is what was asked for, and what is wrong where it is not."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from weightshare.metrology.reading import Kind, Mass, Spot
from weightshare.model import Side
from weightshare.tongue import say
from weightshare.workbench import wording
from weightshare.workbench.block import Block
from weightshare.workbench.plan import Ask
from weightshare.workbench.scale import CHANGE_KG, NONE, OWN, PlateReading

CHANGED_PART = 0.3
"""A change by this part of the load that was moved shows that somebody was there."""
OWN_PART, TOLD_PART, FIRST_KG = 0.03, 0.08, 2.0
"""How far a load may be from what is asked: by the plate's own steps, and by an earlier calibration."""
LEAST_PART = 0.35
"""... and by this part of the least mass, whichever is more."""
EMPTY_PART = 0.05
SOMEBODY = 1.7
SOMEBODY_KG = 5.0
LOOSE_PART, LOOSE_MOST = 0.03, 0.15
"""A quarter that reads so far from the middle has a loose foot; farther, and it is another load."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """What is wrong with the load as it lies there; `firm`: it cannot be taken all the same."""

    words: str
    firm: bool = False


@dataclass(slots=True)
class Looker:
    """Judges one step after the other. `ask_for` begins a step; `doubt` judges a still load."""

    masses: tuple[Mass, ...]
    plates: dict[Side, PlateReading]
    reference: dict[Side, float] = field(default_factory=dict)
    """Each plate's reading as the step began."""
    middle: dict[Side, float] = field(default_factory=dict)
    """What each plate's middle read more than nothing, with the load that goes from quarter to quarter."""

    @property
    def least_kg(self) -> float:
        """The least of the masses."""
        return min(mass.kg for mass in self.masses)

    def other(self, side: Side) -> PlateReading | None:
        """Return the other plate, where the scale has it."""
        return self.plates.get(side.other)

    def ask_for(self, ask: Ask) -> None:
        """Note how the plates read as a step begins."""
        self.reference = {side: plate.now for side, plate in self.plates.items()}

    def reads(self, side: Side) -> float | None:
        """Return about what lies on a plate, kg; None while that is not known."""
        plate = self.plates.get(side)
        return plate.load_kg(plate.now, self.other(side)) if plate is not None else None

    def has_changed(self, ask: Ask, side: Side, block: Block, moved_kg: float) -> bool:
        """Return whether a plate reads otherwise than as the step began, by a part of what was to be moved."""
        plate, reference = self.plates.get(side), self.reference.get(side, math.nan)
        if plate is None or not math.isfinite(reference):
            return False
        other = self.other(side)
        own = plate.slope(other)[1] == OWN
        # until a plate's own steps tell, the masses may be told in a wrong unit
        enough = plate.units(max(CHANGED_PART * moved_kg, CHANGE_KG) if own else CHANGE_KG, other)
        return abs(plate.value(block) - reference) > max(enough, 20.0 * plate.scatter())

    def faulty(self, block: Block) -> Doubt | None:
        """Return what is wrong with the readings themselves."""
        rows = [row for plate in self.plates.values() for row in plate.rows]
        gone = [row for row in rows if not math.isfinite(block.mean[row])]
        if gone:
            return Doubt(wording.missing(gone), firm=True)
        clipped = [row for row in rows if block.clipped[row]]
        return Doubt(wording.at_end(clipped), firm=True) if clipped else None

    def misplaced(self, ask: Ask, block: Block, changed: bool) -> Doubt | None:
        """Return whether the other plate was loaded; `changed`: this one was."""
        side = ask.placement.side
        if not self.has_changed(ask, side.other, block, self.least_kg):
            return None
        if changed and self.has_changed(ask, side, block, self.least_kg):
            return Doubt(wording.both_changed(ask), firm=True)
        return Doubt(wording.wrong_plate(ask), firm=True)

    def doubt(self, ask: Ask) -> Doubt | None:
        """Return what is wrong with the load that lies still on the plate that is asked for; None where nothing is."""
        plate = self.plates[ask.placement.side]
        other = self.other(ask.placement.side)
        seen_kg = plate.load_kg(plate.now, other)
        _slope, whence = plate.slope(other)
        if whence == NONE or seen_kg is None:
            return None
        if ask.load_kg and whence != OWN:
            return self._first_load(ask, seen_kg)
        return self._load(ask, seen_kg, OWN_PART if whence == OWN else TOLD_PART)

    def _first_load(self, ask: Ask, seen_kg: float) -> Doubt | None:
        """Judge the first load of a plate by what was known before: an earlier calibration, or the other plate."""
        if seen_kg < -0.3 * self.least_kg:
            return Doubt(wording.wrong_sign(ask), firm=True)
        hint = wording.factor_hint(seen_kg, ask.load_kg)
        if hint and not self._fits(ask, seen_kg, TOLD_PART):
            return Doubt(f"{wording.wrong_unit(seen_kg, ask, hint)}, {say(wording.ANYWAY)}")
        return self._load(ask, seen_kg, TOLD_PART)

    def _fits(self, ask: Ask, seen_kg: float, part: float) -> bool:
        slack = max(part * ask.load_kg, LEAST_PART * self.least_kg)
        if not ask.load_kg and not self.plates[ask.placement.side].zero_measured:
            # the zero itself may have moved since the last calibration
            slack = max(slack, FIRST_KG)
        return abs(seen_kg - ask.load_kg) <= slack

    def _load(self, ask: Ask, seen_kg: float, part: float) -> Doubt | None:
        loose = self._loose(ask)
        if loose is not None:
            return loose
        if self._fits(ask, seen_kg, part):
            return None
        if abs(seen_kg) < EMPTY_PART * ask.load_kg:
            # still in somebody's hands
            return Doubt("", firm=True)
        whence = self.plates[ask.placement.side].slope(self.other(ask.placement.side))[1]
        if self._is_somebody(ask, seen_kg):
            return Doubt(wording.somebody(seen_kg, ask), firm=whence == OWN)
        if seen_kg < -max(FIRST_KG, self.least_kg):
            return Doubt(wording.wrong_sign(ask), firm=whence == OWN)
        return Doubt(wording.other_load(seen_kg, ask))

    def _loose(self, ask: Ask) -> Doubt | None:
        """Return whether a quarter reads far from the middle, but not so far that another load lies there."""
        plate, middle = self.plates[ask.placement.side], self.middle.get(ask.placement.side)
        if ask.placement.kind is not Kind.CORNER or ask.placement.spot is Spot.MIDDLE or not middle:
            return None
        part = (plate.now - (plate.zero or 0.0)) / middle - 1.0
        return Doubt(wording.loose_foot(ask, part)) if LOOSE_PART < abs(part) < LOOSE_MOST else None

    def restless(self, ask: Ask) -> Doubt:
        """Return why a load does not become still: somebody, where it is far too much."""
        seen_kg = self.reads(ask.placement.side)
        if seen_kg is not None and self._is_somebody(ask, seen_kg):
            return Doubt(wording.somebody(seen_kg, ask), firm=True)
        return Doubt(say(wording.MOVING))

    def _is_somebody(self, ask: Ask, seen_kg: float) -> bool:
        return seen_kg > SOMEBODY * ask.load_kg and seen_kg - ask.load_kg > max(SOMEBODY_KG, 2.0 * self.least_kg)

    def blind_sign(self, ask: Ask) -> Doubt | None:
        """Return whether a plate of which nothing is known reads the less the more lies on it."""
        plate = self.plates[ask.placement.side]
        if not ask.load_kg or plate.slope(self.other(ask.placement.side))[1] != NONE or plate.zero is None:
            return None
        return Doubt(wording.wrong_sign(ask), firm=True) if plate.now < plate.zero else None

    def learn(self, ask: Ask, block: Block) -> None:
        """Take what was measured of a step as known from now on."""
        plate = self.plates[ask.placement.side]
        value = plate.value(block)
        if not math.isfinite(value):
            return
        if ask.placement.spot is Spot.MIDDLE:
            plate.learn(value, ask.load_kg)
        if ask.placement.kind is Kind.CORNER and ask.placement.spot is Spot.MIDDLE:
            self.middle[ask.placement.side] = value - (plate.zero or 0.0)
