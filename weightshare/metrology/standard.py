"""What standards say of masses, gravity and classes of scales: information beside a figure, no approval of any."""

from __future__ import annotations

import math
from bisect import bisect_left
from enum import StrEnum

from weightshare.errors import InputError
from weightshare.metrology.estimate import Estimate
from weightshare.model import STANDARD_GRAVITY

AIR_LIFT_PART = 1.2 / 8000.0
"""By this part air makes a mass lighter: 1.2 kg/m^3 over 8,000 kg/m^3, the conventional densities (OIML D 28:2004)."""


class MassClass(StrEnum):
    """An accuracy class of weights (OIML R 111-1:2004), the finest first."""

    E2 = "E2"
    F1 = "F1"
    F2 = "F2"
    M1 = "M1"
    M2 = "M2"
    M3 = "M3"


_NOMINAL_KG = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)
_LIMIT_MG: dict[MassClass, tuple[float, ...]] = {
    MassClass.E2: (0.16, 0.3, 0.8, 1.6, 3.0, 8.0, 16.0, 30.0, 80.0, 160.0, 300.0, 800.0, 1600.0),
    MassClass.F1: (0.5, 1.0, 2.5, 5.0, 10.0, 25.0, 50.0, 100.0, 250.0, 500.0, 1000.0, 2500.0, 5000.0),
    MassClass.F2: (1.6, 3.0, 8.0, 16.0, 30.0, 80.0, 160.0, 300.0, 800.0, 1600.0, 3000.0, 8000.0, 16000.0),
    MassClass.M1: (5.0, 10.0, 25.0, 50.0, 100.0, 250.0, 500.0, 1000.0, 2500.0, 5000.0, 1e4, 2.5e4, 5e4),
    MassClass.M2: (16.0, 30.0, 80.0, 160.0, 300.0, 800.0, 1600.0, 3000.0, 8000.0, 1.6e4, 3e4, 8e4, 1.6e5),
    MassClass.M3: (50.0, 100.0, 250.0, 500.0, 1000.0, 2500.0, 5000.0, 1e4, 2.5e4, 5e4, 1e5, 2.5e5, 5e5),
}
"""OIML R 111-1:2004, table 1. Class M1 at 5, 10 and 20 kg was read there, the rest is from memory."""


def mass_limit_kg(nominal_kg: float, mass_class: MassClass) -> float:
    """Return the maximum permissible error of one weight, kg (OIML R 111-1:2004, table 1).

    A nominal value that the table does not have takes the limit of the next greater one, which is the more careful.
    Raises InputError outside of 0.1 to 1,000 kg.
    """
    if not _NOMINAL_KG[0] * (1 - 1e-9) <= nominal_kg <= _NOMINAL_KG[-1]:
        raise InputError(f"{nominal_kg:g} kg has no class limit here: weights of 0.1 to 1,000 kg have")
    place = bisect_left(_NOMINAL_KG, nominal_kg * (1 - 1e-9))
    return _LIMIT_MG[mass_class][place] * 1e-6


def mass_uncertainty_kg(nominal_kg: float, mass_class: MassClass) -> float:
    """Return the standard uncertainty of a weight of which its class alone is known, kg.

    The limit over sqrt(3): anywhere within it is as likely (GUM, JCGM 100:2008, 4.3.7). Raises InputError as
    mass_limit_kg does.
    """
    return mass_limit_kg(nominal_kg, mass_class) / math.sqrt(3.0)


def mass_uncertainty_part(mass_class: MassClass) -> float:
    """Return the standard uncertainty of a load made of weights of one class and one maker, as a part of the load.

    Taken as if all of them erred together; for weights from 100 g on.
    """
    limits = zip(_NOMINAL_KG, _LIMIT_MG[mass_class], strict=True)
    return max(limit * 1e-6 / nominal for nominal, limit in limits) / math.sqrt(3.0)


def certificate_uncertainty(expanded: float, coverage: float = 2.0) -> float:
    """Return the standard uncertainty that a certificate's expanded one stands for: U / k (GUM 4.3.3), in U's unit.

    Raises InputError where k is not positive or U negative.
    """
    if not (coverage > 0.0 and expanded >= 0.0):
        raise InputError(f"U = {expanded:g} with k = {coverage:g} is no expanded uncertainty")
    return expanded / coverage


_EQUATOR_G = 9.7803253359
_SOMIGLIANA_K = 0.00193185265241
_ECCENTRICITY2 = 0.00669437999014
_FLATTENING = 1.0 / 298.257223563
_ROTATION_M = 0.00344978650684
_SEMI_AXIS_M = 6378137.0
_ANOMALY_U = 5e-4
"""m/s^2, 50 mGal: about how far gravity on land strays from the normal field (from memory)."""
_ROCK_G_PER_M = 1.119e-6
"""m/s^2 per m: what a plate of rock of 2,670 kg/m^3 under the place adds, at most (Bouguer; 2 pi G rho)."""
_HEIGHT_RANGE_M = (-500.0, 6000.0)


def local_gravity(latitude_deg: float, height_m: float = 0.0) -> Estimate:
    """Return gravity at a place, m/s^2: WGS 84 normal gravity, with the second-order correction for height.

    Somigliana's formula and its continuation in height: NGA.STND.0036 (2014), 4-1 and 4-3 (constants from memory). The
    standard uncertainty is that of rock and mountains, of which the formula knows nothing. Raises InputError for a
    latitude over 90 degrees in size, or a height outside of -500 to 6,000 m.
    """
    if not abs(latitude_deg) <= 90.0:
        raise InputError(f"a latitude of {latitude_deg:g} degrees is out of range: it may be -90 to 90")
    low_m, high_m = _HEIGHT_RANGE_M
    if not low_m <= height_m <= high_m:
        raise InputError(f"a height of {height_m:g} m is out of range: it may be {low_m:g} to {high_m:g} m")
    sine2 = math.sin(math.radians(latitude_deg)) ** 2
    normal = _EQUATOR_G * (1.0 + _SOMIGLIANA_K * sine2) / math.sqrt(1.0 - _ECCENTRICITY2 * sine2)
    part = height_m / _SEMI_AXIS_M
    with_height = 1.0 - 2.0 * (1.0 + _FLATTENING + _ROTATION_M - 2.0 * _FLATTENING * sine2) * part + 3.0 * part**2
    return Estimate(normal * with_height, math.hypot(_ANOMALY_U, _ROCK_G_PER_M * height_m / math.sqrt(3.0)))


def standard_gravity() -> Estimate:
    """Return the conventional gravity, m/s^2, with the standard uncertainty of not knowing where on Earth one is.

    Rectangular from the equator's normal gravity to the poles' (GUM 4.3.7), at sea level.
    """
    spread = local_gravity(90.0).value - local_gravity(0.0).value
    return Estimate(STANDARD_GRAVITY, spread / math.sqrt(12.0))


class ScaleClass(StrEnum):
    """An accuracy class of scales (OIML R 76-1:2006)."""

    III = "III"
    IIII = "IIII"


_STEPS: dict[ScaleClass, tuple[float, float, float]] = {
    ScaleClass.III: (500.0, 2_000.0, 10_000.0),
    ScaleClass.IIII: (50.0, 200.0, 1_000.0),
}
"""Up to so many scale intervals the limit is 0.5 e, 1 e, 1.5 e (OIML R 76-1:2006, table 6)."""


def scale_limit(load: float, interval: float, scale_class: ScaleClass, *, in_service: bool = False) -> float:
    """Return the maximum permissible error of a scale at `load`, in the unit of `load` and `interval` (e).

    OIML R 76-1:2006, table 6; in service twice that (3.5.2). Raises InputError where e is not positive, or the load
    is more scale intervals than the class has.
    """
    count = number_of_intervals(load, interval)
    for most, times in zip(_STEPS[scale_class], (0.5, 1.0, 1.5), strict=True):
        if count <= most * (1 + 1e-12):
            return times * interval * (2.0 if in_service else 1.0)
    raise InputError(
        f"class {scale_class} ends at {_STEPS[scale_class][-1]:,.0f} scale intervals; {count:,.0f} are asked"
    )


def number_of_intervals(load: float, interval: float) -> float:
    """Return how many scale intervals a load is in size. Raises InputError where the interval is not over 0."""
    if not interval > 0.0:
        raise InputError(f"a scale interval of {interval:g} is none: it is over 0")
    return abs(load) / interval


def creep_limits(interval: float) -> tuple[float, float]:
    """Return how far a reading may creep in 30 min, and from 15 to 30 min (OIML R 76-1:2006, 3.9.4.1; from memory)."""
    return 0.5 * interval, 0.2 * interval


def return_limit(interval: float) -> float:
    """Return how far from zero a scale may come back after 30 min of load (OIML R 76-1:2006, 3.9.4.2; from memory)."""
    return 0.5 * interval


def usual_interval(greatest: float, scale_class: ScaleClass = ScaleClass.III) -> float:
    """Return a scale interval e of 1, 2 or 5 x 10^k with at most 2,000 (class III) or 1,000 of them up to `greatest`.

    Class limits stand beside figures of a scale that declares no e: this one is taken then, and said. Most scales for
    persons have about that many (common practice, no source). Raises InputError where `greatest` is not over 0.
    """
    if not greatest > 0.0:
        raise InputError(f"a range of {greatest:g} is none: it is over 0")
    least = greatest / (2_000.0 if scale_class is ScaleClass.III else 1_000.0)
    ten = 10.0 ** math.floor(math.log10(least))
    return next(times * ten for times in (1.0, 2.0, 5.0, 10.0) if times * ten >= least * (1 - 1e-9))


LOWER_LIMIT_TIMES = 2.4
_LOAD_TIMES = {"AA": 2_000.0, "A": 400.0}


def lower_limit_factor(residual_sd: float) -> float:
    """Return the lower limit factor of a fit, in the unit of its standard deviation: 2.4 times that (ASTM E74).

    The standard lets a load cell measure in a class from a number of times this factor on: see lowest_load.
    """
    return LOWER_LIMIT_TIMES * residual_sd


def lowest_load(factor: float, load_class: str) -> float:
    """Return from which load on a cell with that lower limit factor is of class A (400 x) or AA (2,000 x) (ASTM E74).

    Raises InputError for another class.
    """
    if load_class not in _LOAD_TIMES:
        raise InputError(f"ASTM E74 has the classes A and AA, not {load_class}")
    return _LOAD_TIMES[load_class] * factor
