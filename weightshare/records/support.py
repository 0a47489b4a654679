"""The load that was held in supported work, and what it is worth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

import numpy as np

from weightshare.metrology.share import mean_bandwidth_Hz, side_doubt
from weightshare.model import STANDARD_GRAVITY, Side, Trace, Worth
from weightshare.pipeline.repetition import READ_PART, Stretch
from weightshare.pipeline.tape import Tape
from weightshare.state import Hold


@dataclass(frozen=True, slots=True)
class HeldLoad:
    """The mean load on the injured side in all holds, kg; `u_kg`: its standard uncertainty, None where not known."""

    kg: float
    u_kg: float | None

    def to_json(self) -> dict[str, float | None]:
        """Return it as plain values, N."""
        return {"N": STANDARD_GRAVITY * self.kg, "u_N": None if self.u_kg is None else STANDARD_GRAVITY * self.u_kg}


def held_load(trace: Trace, holds: Sequence[Hold], injured: Side, worth: Worth | None) -> HeldLoad | None:
    """Return the mean load of the injured side from the first to the last instant of each of `holds`.

    trace: unfiltered. worth: what the scale's forces are worth; None: not known. Time within the grace counts to it.
    None where there is no hold, or less than nine tenths of them were read.
    """
    if not trace.time_s.size or not holds:
        return None
    tape = Tape(2)
    tape.push(trace.time_s, np.stack([trace.columns[f"{side}_N"] for side in (injured, injured.other)]))
    found = [Stretch.of(tape, (0, 1), hold.start_s, hold.end_s).impulses() for hold in holds]
    asked_s, read_s = fsum(hold.end_s - hold.start_s for hold in holds), fsum(seconds for _, seconds in found)
    if read_s < READ_PART * asked_s or not read_s > 0.0:
        return None
    mean_N = fsum(float(impulses[0]) for impulses, _ in found) / read_s
    doubt = None if worth is None else side_doubt(worth, injured, mean_N, mean_bandwidth_Hz(read_s))
    return HeldLoad(mean_N / STANDARD_GRAVITY, None if doubt is None else doubt.u_N / STANDARD_GRAVITY)
