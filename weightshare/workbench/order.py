"""What is to be calibrated, with what, where and by whom; checked before a scale is touched."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from weightshare.errors import CalibrationError, OptionError, check_range
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.point import unit_hint
from weightshare.metrology.reading import Mass
from weightshare.metrology.standard import MassClass, local_gravity, mass_uncertainty_kg, standard_gravity
from weightshare.scales.rig.wish import on_bench
from weightshare.workbench.plan import Wanted, check_masses

VALID_DAYS = 365
GREATEST_KG = 1000.0
DEFAULT_CLASS = MassClass.M1


@dataclass(frozen=True, slots=True)
class Order:
    """One calibration that is asked for. folder: where calibrations are kept (None: the user's own place)."""

    source: str
    wanted: Wanted
    latitude_deg: float | None = None
    height_m: float | None = None
    made_by: str = ""
    valid_days: int = VALID_DAYS
    folder: Path | None = None
    record: bool = True
    """Whether the raw record is kept beside the calibrations."""

    def check(self) -> None:
        """Raise CalibrationError or OptionError where it cannot be done."""
        check_masses(self.wanted.masses)
        check_range("--valid-days", self.valid_days, 1, 3650, "days")
        check_range("--runs", self.wanted.runs, 1, 10, "runs")
        check_range("--creep-minutes", self.wanted.creep_s / 60.0, 0.0, 240.0, "minutes")
        check_range("--drift-seconds", self.wanted.drift_s, 5.0, 3600.0, "s")
        if self.height_m is not None and self.latitude_deg is None:
            raise OptionError("--height needs --latitude too: gravity depends on both")
        self.gravity()

    def gravity(self) -> Estimate:
        """Return gravity where it is done, m/s^2. Raises InputError for a place that is none."""
        if self.latitude_deg is None:
            return standard_gravity()
        return local_gravity(self.latitude_deg, self.height_m or 0.0)


def bench_source(source: str) -> str:
    """Return `source`, but virtual hands in place of a virtual person: nobody stands on what is calibrated.

    The scale stays the same one: seed, cells, rate. Raises OptionError for a person whom nobody knows.
    """
    kind, colon, spec = source.partition(":")
    return f"rig:{on_bench(spec)}" if colon and kind == "rig" else source


def parse_masses(text: str, mass_class: MassClass | None = None, uncertainty_kg: float | None = None) -> list[Mass]:
    """Return the masses of a list in kilograms between commas, with the uncertainty of their class or one's own.

    `uncertainty_kg` is the standard uncertainty of each; it wins over the class. Raises OptionError.
    """
    masses = []
    for kg in _read_masses(text):
        if not 0.0 < kg <= GREATEST_KG:
            hint = f"; {unit_hint(np.array(_read_masses(text)))}" if kg > GREATEST_KG else ""
            raise OptionError(
                f"--masses {text}: {kg:g} kg is out of range: each may be over 0 to {GREATEST_KG:g} kg{hint}"
            )
        u_kg = mass_uncertainty_kg(kg, mass_class or DEFAULT_CLASS) if uncertainty_kg is None else uncertainty_kg
        masses.append(Mass(f"{kg:g} kg", kg, u_kg))
    return masses


def _read_masses(text: str) -> list[float]:
    words = text.split(",")
    for word in words:
        if not re.fullmatch(r"\s*\d+(\.\d+)?\s*", word):
            raise OptionError(f"--masses {text}: {word.strip()!r} is no mass in kg; write them as in 10,10,20,20")
    return [float(word) for word in words]


def check_total(masses: Sequence[Mass], most_kg: float) -> None:
    """Raise CalibrationError where all masses together are more than a plate may bear, kg."""
    total = sum(mass.kg for mass in masses)
    if total > most_kg:
        raise CalibrationError(
            f"--masses: together they are {total:g} kg, and a plate bears {most_kg:.0f} kg at most; "
            f"{unit_hint(np.array([mass.kg for mass in masses]))}"
        )
