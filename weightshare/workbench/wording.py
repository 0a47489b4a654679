"""What a guided calibration says: what to do, in one line, and what is wrong, in words that say what helps."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from weightshare.metrology.reading import Kind, Mass, Placement, Spot
from weightshare.model import Side
from weightshare.workbench.plan import Ask

ANYWAY = "or press Space to take it as it lies"
KG_PER_POUND = 0.45359237
_FACTORS = (
    (9.81, "they may be newtons, written as kilograms"),
    (1.0 / 9.81, "they may be kilograms, divided by 9.81 as if they were newtons"),
    (1000.0, "they may be grams, written as kilograms"),
    (0.001, "they may be tonnes, or kilograms divided by 1000"),
    (1.0 / KG_PER_POUND, "they may be pounds, written as kilograms"),
)
_FACTOR_PART = 0.06


def plate(side: Side) -> str:
    """Return the name of a plate as it is said."""
    return f"the {side.upper()} plate"


def kilograms(kg: float) -> str:
    """Return a load in words."""
    # what rounds to nothing has no sign
    return f"{round(kg, 1) + 0.0:.1f} kg".replace(".0 kg", " kg")


def headline(ask: Ask, before: Placement | None, masses: Sequence[Mass]) -> str:
    """Return what to do so that what `ask` wants lies there; `before`: what lay on that plate, None for not known."""
    placement = ask.placement
    here, wanted = plate(placement.side), set(placement.masses)
    on = set(before.masses) if before else set()
    more, less = wanted - on, on - wanted
    if more:
        first = f"Take {_named(less, masses)} off, and lay" if less else ("Add" if on else "Lay")
        comma = "," if first == "Add" else ""
        return f"{first} {_named(more, masses)}{comma} {_spot(placement.spot)} of {here}"
    if less:
        return f"Take {_named(less, masses) if wanted or len(on) == 1 else 'everything'} off {here}"
    if not wanted:
        return f"Nothing on {here}: step back, and let nobody touch the scales"
    way = "Leave" if before is not None and before.spot is placement.spot else "Move"
    where = _spot(placement.spot) if way == "Leave" else f"to the {_place(placement.spot)}"
    return f"{way} {_named(wanted, masses)} {where} of {here}"


def leave(ask: Ask, left_s: float) -> str:
    """Return what to do while a load is left on, or nothing lies there: nothing, for so long."""
    what = "Leave it there and touch nothing" if ask.placement.masses else "Keep off the scales"
    return f"{what} for {duration(left_s)} more"


def duration(seconds: float) -> str:
    """Return a duration in words: minutes from 100 s on."""
    return f"{max(seconds, 0.0) / 60.0:.0f} min" if seconds >= 100.0 else f"{max(seconds, 0.0):.0f} s"


def factor_hint(seen_kg: float, asked_kg: float) -> str:
    """Return what a factor between what is asked and what is seen points at; empty for no known one."""
    ratio = asked_kg / seen_kg if seen_kg > 0.0 else 0.0
    for factor, words in _FACTORS:
        if abs(ratio / factor - 1.0) < _FACTOR_PART:
            return f"{words}: that is a factor of {factor:.4g}" if factor > 1.0 else words
    return ""


def other_load(seen_kg: float, ask: Ask) -> str:
    """Return that something else lies there than was asked for."""
    seen, here = kilograms(seen_kg), plate(ask.placement.side)
    if not ask.load_kg:
        return f"About {seen} still lie on {here}: take everything off, {ANYWAY}"
    return (
        f"About {seen} lie on {here}, and {kilograms(ask.load_kg)} are asked for: look which masses they are, {ANYWAY}"
    )


def wrong_unit(seen_kg: float, ask: Ask, hint: str) -> str:
    """Return that the masses are told in the wrong unit."""
    seen, asked = kilograms(seen_kg), kilograms(ask.load_kg)
    return f"{asked} are asked for, and the scale reads about {seen}. Look at the list of masses: {hint}"


def somebody(seen_kg: float, ask: Ask) -> str:
    """Return that far too much lies there."""
    here, seen = plate(ask.placement.side), kilograms(seen_kg)
    return f"About {seen} are on {here}, far more than {kilograms(ask.load_kg)}: is somebody still on it? Step off"


def wrong_plate(ask: Ask) -> str:
    """Return that the load came upon the other plate."""
    side = ask.placement.side
    return f"The load on {plate(side.other)} has changed, not that on {plate(side)}: it belongs on {plate(side)}"


def both_changed(ask: Ask) -> str:
    """Return that the other plate has changed as well."""
    return f"The load on {plate(ask.placement.side.other)} has changed too: only {plate(ask.placement.side)} is touched"


def wrong_sign(ask: Ask) -> str:
    """Return that a plate reads the less the more lies on it."""
    here = plate(ask.placement.side)
    return f"{here[0].upper()}{here[1:]} reads less as more lies on it: its cells are wired the wrong way round"


def loose_foot(ask: Ask, part: float) -> str:
    """Return that a quarter reads far off the middle."""
    how, spot = "more" if part > 0.0 else "less", _place(ask.placement.spot)
    return (
        f"The {spot} of {plate(ask.placement.side)} reads {abs(part):.1%} {how} than its middle: "
        f"look for a loose foot or something under the plate, {ANYWAY}"
    ).replace("%", " %")


def missing(channels: Iterable[int]) -> str:
    """Return that readings are not there."""
    return f"Readings are missing from channel {_list(map(str, channels))}: look at the cable of that cell"


def at_end(channels: Iterable[int]) -> str:
    """Return that a converter is at its end."""
    return f"Channel {_list(map(str, channels))} is at the end of its range: take load off, or look at its cable"


def nothing_came(ask: Ask) -> str:
    """Return that nothing has changed for a while."""
    return f"Nothing has changed on {plate(ask.placement.side)} yet; if it lies as asked, press Space"


AGAIN = "Lay it on anew; or press Space to take it as it lies"
MOVING = "The load still moves: let go of it. Is somebody on the plate, or leaning on it?"


def broken(ask: Ask, after_s: float) -> str:
    """Return that the load changed while it was measured."""
    if ask.placement.kind is Kind.CREEP:
        return f"The load was touched after {duration(after_s)}. It has to be left alone: this step begins again"
    return "The load moved while it was measured: this step begins again"


def _named(which: Iterable[int], masses: Sequence[Mass]) -> str:
    """Return the masses as they are called: `the 10 kg mass`, `both 20 kg masses`, `all 4 masses (60 kg)`."""
    chosen = [masses[place] for place in sorted(which)]
    if len(chosen) == 1:
        return f"the {chosen[0].name} mass"
    if len(chosen) == 2 and chosen[0].name == chosen[1].name:
        return f"both {chosen[0].name} masses"
    if len(chosen) == 2:
        return f"the {chosen[0].name} and the {chosen[1].name} mass"
    every = "all" if len(chosen) == len(masses) else "the"
    total = kilograms(sum(mass.kg for mass in chosen))
    names = "" if every == "all" else f"{_list(mass.name for mass in chosen)}: "
    return f"{every} {len(chosen)} masses ({names}{total})"


def _place(spot: Spot) -> str:
    return "middle" if spot is Spot.MIDDLE else f"{spot} quarter"


def _spot(spot: Spot) -> str:
    return "on the middle" if spot is Spot.MIDDLE else f"on the {_place(spot)}"


def _list(words: Iterable[str]) -> str:
    *first, last = list(words)
    return f"{', '.join(first)} and {last}" if first else last
