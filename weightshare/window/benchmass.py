"""What is typed about the masses of a calibration, read; what is wrong with it is said in words."""

from __future__ import annotations

import math
import re

from weightshare.errors import InputError, OptionError
from weightshare.metrology.reading import Mass
from weightshare.metrology.standard import MassClass, mass_uncertainty_kg
from weightshare.tongue import say

LEAST_KG, GREATEST_KG = 0.1, 200.0
"""Between them lies one mass, and all together: a plate of the standard build bears no more."""
MOST_MASSES = 30
KNOWN = ("M1", "M2", "M3", "F1", "F2", "E2", "0.05 kg", "1 %")
"""What is offered for how well the masses are known; a standard uncertainty of one's own can be typed."""
UNITS_KG = {"kg": 1.0, "g": 0.001}
_KNOWN = re.compile(r"(?:\u00b1 ?|\+-)?([0-9]+(?:[.,][0-9]+)?) ?(kg|g|%)")
_MASS = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?(?:kg)?")


def masses_of(text: str, known: str) -> tuple[Mass, ...]:
    """Return the masses that `text` names in kg, as well known as `known` says.

    Raises OptionError where a mass is none, where there are too few, or where they make only one load.
    """
    kilograms = [_mass_kg(part) for part in _parts(text)]
    if len(kilograms) < 2:
        raise OptionError(say("two masses at least: one load alone shows no slope"))
    if len(kilograms) > MOST_MASSES:
        raise OptionError(
            say("{count} masses are too many; {most} are the most", count=len(kilograms), most=MOST_MASSES)
        )
    if sum(kilograms) > GREATEST_KG:
        raise OptionError(
            say(
                "together they are {total:g} kg; a plate bears {greatest:g} kg at most",
                total=sum(kilograms),
                greatest=GREATEST_KG,
            )
        )
    return tuple(Mass(f"{kg:g} kg", kg, uncertainty_of(known, kg)) for kg in kilograms)


def _parts(text: str) -> list[str]:
    """Split at semicolons; where there are none, at commas, else at blanks. Beside semicolons a comma is decimal."""
    cleaned = re.sub(r"(?<=[0-9]) +(?=kg)", "", text.strip())
    if ";" in cleaned:
        parts = re.sub(r"(?<=[0-9]),(?=[0-9])", ".", cleaned).split(";")
    else:
        parts = cleaned.split("," if "," in cleaned else None)
    return [part.strip() for part in parts if part.strip()]


def _mass_kg(part: str) -> float:
    found = _MASS.fullmatch(part)
    if found is None:
        raise OptionError(say("\u201c{part}\u201d is no mass; write kilograms as in 5, 10, 20, 20", part=part))
    kg = float(found[1])
    if kg > GREATEST_KG:
        hint = say("; {grams:g} g would be {kg:g}", grams=kg, kg=kg / 1000) if kg >= 1000 else ""
        raise OptionError(say("{kg:g} kg is more than {greatest:g} kg{hint}", kg=kg, greatest=GREATEST_KG, hint=hint))
    if kg < LEAST_KG:
        raise OptionError(say("{kg:g} kg is less than {least:g} kg", kg=kg, least=LEAST_KG))
    return kg


def uncertainty_of(known: str, kg: float) -> float:
    """Return the standard uncertainty, kg, of a mass of `kg` of which `known` tells class or uncertainty.

    Raises OptionError where it tells neither.
    """
    said = known.strip()
    if said.upper() in MassClass.__members__:
        try:
            return mass_uncertainty_kg(kg, MassClass(said.upper()))
        except InputError as error:
            raise OptionError(str(error)) from error
    found = _KNOWN.fullmatch(said)
    if found is None:
        raise OptionError(say("a class as in M1, or a standard uncertainty as in 0.05 kg, 20 g or 1 %"))
    value = float(found[1].replace(",", "."))
    u_kg = value / 100.0 * kg if found[2] == "%" else value * UNITS_KG[found[2]]
    if u_kg >= 0.2 * kg:
        raise OptionError(
            say("{doubt:g} kg is a fifth of {kg:g} kg or more: with that nothing can be calibrated", doubt=u_kg, kg=kg)
        )
    return u_kg


def place_of(text: str, low: float, high: float, unit: str) -> float | None:
    """Return a latitude or a height; None where nothing was typed. Raises OptionError beyond the limits."""
    said = text.strip().removesuffix(unit).strip().replace(",", ".").replace("\u2212", "-")
    if not said:
        return None
    try:
        value = float(said)
    except ValueError:
        raise OptionError(say("\u201c{text}\u201d is no number", text=text.strip())) from None
    if not (math.isfinite(value) and low <= value <= high):
        raise OptionError(
            say("{value:g}: it may be {low:g} to {high:g} {unit}", value=value, low=low, high=high, unit=unit)
        )
    return value
