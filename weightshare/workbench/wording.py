"""What a guided calibration says: what to do, in one line, and what is wrong, in words that say what helps."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from weightshare.metrology.reading import Kind, Mass, Placement, Spot
from weightshare.model import Side
from weightshare.tongue import mark, number, say
from weightshare.workbench.plan import Ask

ANYWAY = mark("or press Space to take it as it lies")
LIES = "lies"
"""The sense of a place on which something lies already: some languages call it otherwise then."""
KG_PER_POUND = 0.45359237
_FACTORS = (
    (9.81, mark("they may be newtons, written as kilograms")),
    (1.0 / 9.81, mark("they may be kilograms, divided by 9.81 as if they were newtons")),
    (1000.0, mark("they may be grams, written as kilograms")),
    (0.001, mark("they may be tonnes, or kilograms divided by 1000")),
    (1.0 / KG_PER_POUND, mark("they may be pounds, written as kilograms")),
)
_FACTOR_PART = 0.06


def plate(side: Side) -> str:
    """Return the name of a plate as it is said."""
    return say("the LEFT plate") if side is Side.LEFT else say("the RIGHT plate")


def kilograms(kg: float) -> str:
    """Return a load in words."""
    # what rounds to nothing has no sign
    rounded = round(kg, 1) + 0.0
    return f"{number(rounded, '.0f' if rounded.is_integer() else '.1f')} kg"


def headline(ask: Ask, before: Placement | None, masses: Sequence[Mass]) -> str:
    """Return what to do so that what `ask` wants lies there; `before`: what lay on that plate, None for not known."""
    placement = ask.placement
    here, wanted = plate(placement.side), set(placement.masses)
    on = set(before.masses) if before else set()
    more, less = wanted - on, on - wanted
    spot = placement.spot
    if more:
        what = _named(more, masses)
        if less:
            words = mark("Take {off} off, and lay {what} {where} of {here}")
            return say(words, off=_named(less, masses), what=what, where=_spot(spot), here=here)
        lay = mark("Add {what}, {where} of {here}") if on else mark("Lay {what} {where} of {here}")
        return say(lay, what=what, where=_spot(spot), here=here)
    if less:
        off = _named(less, masses) if wanted or len(on) == 1 else say("everything")
        return say("Take {off} off {here}", off=off, here=here)
    if not wanted:
        return say("Nothing on {here}: step back, and let nobody touch the scales", here=here)
    if before is not None and before.spot is spot:
        return say("Leave {what} {where} of {here}", what=_named(wanted, masses), where=_spot(spot, LIES), here=here)
    return say("Move {what} to the {place} of {here}", what=_named(wanted, masses), place=_place(spot), here=here)


def leave(ask: Ask, left_s: float) -> str:
    """Return what to do while a load is left on, or nothing lies there: nothing, for so long."""
    what = (
        mark("Leave it there and touch nothing for {left} more")
        if ask.placement.masses
        else mark("Keep off the scales for {left} more")
    )
    return say(what, left=duration(left_s))


def duration(seconds: float) -> str:
    """Return a duration in words: minutes from 100 s on."""
    return f"{max(seconds, 0.0) / 60.0:.0f} min" if seconds >= 100.0 else f"{max(seconds, 0.0):.0f} s"


def factor_hint(seen_kg: float, asked_kg: float) -> str:
    """Return what a factor between what is asked and what is seen points at; empty for no known one."""
    ratio = asked_kg / seen_kg if seen_kg > 0.0 else 0.0
    for factor, words in _FACTORS:
        if abs(ratio / factor - 1.0) < _FACTOR_PART:
            if factor > 1.0:
                return say("{hint}: that is a factor of {factor:.4g}", hint=say(words), factor=factor)
            return say(words)
    return ""


def other_load(seen_kg: float, ask: Ask) -> str:
    """Return that something else lies there than was asked for."""
    seen, here = kilograms(seen_kg), plate(ask.placement.side)
    if not ask.load_kg:
        return say(
            "About {seen} still lie on {here}: take everything off, {anyway}", seen=seen, here=here, anyway=say(ANYWAY)
        )
    return say(
        "About {seen} lie on {here}, and {asked} are asked for: look which masses they are, {anyway}",
        seen=seen,
        here=here,
        asked=kilograms(ask.load_kg),
        anyway=say(ANYWAY),
    )


def wrong_unit(seen_kg: float, ask: Ask, hint: str) -> str:
    """Return that the masses are told in the wrong unit."""
    seen, asked = kilograms(seen_kg), kilograms(ask.load_kg)
    return say(
        "{asked} are asked for, and the scale reads about {seen}. Look at the list of masses: {hint}",
        asked=asked,
        seen=seen,
        hint=hint,
    )


def somebody(seen_kg: float, ask: Ask) -> str:
    """Return that far too much lies there."""
    here, seen = plate(ask.placement.side), kilograms(seen_kg)
    return say(
        "About {seen} are on {here}, far more than {asked}: is somebody still on it? Step off",
        seen=seen,
        here=here,
        asked=kilograms(ask.load_kg),
    )


def wrong_plate(ask: Ask) -> str:
    """Return that the load came upon the other plate."""
    side = ask.placement.side
    return say(
        "The load on {other} has changed, not that on {here}: it belongs on {here}",
        other=plate(side.other),
        here=plate(side),
    )


def both_changed(ask: Ask) -> str:
    """Return that the other plate has changed as well."""
    return say(
        "The load on {other} has changed too: only {here} is touched",
        other=plate(ask.placement.side.other),
        here=plate(ask.placement.side),
    )


def wrong_sign(ask: Ask) -> str:
    """Return that a plate reads the less the more lies on it."""
    words = mark("{here:C} reads less as more lies on it: its cells are wired the wrong way round")
    return say(words, here=plate(ask.placement.side))


def loose_foot(ask: Ask, part: float) -> str:
    """Return that a quarter reads far off the middle."""
    spot, here = _place(ask.placement.spot), plate(ask.placement.side)
    more = mark(
        "The {spot} of {here} reads {part:.1f} % more than its middle: "
        "look for a loose foot or something under the plate, {anyway}"
    )
    less = mark(
        "The {spot} of {here} reads {part:.1f} % less than its middle: "
        "look for a loose foot or something under the plate, {anyway}"
    )
    return say(more if part > 0.0 else less, spot=spot, here=here, part=100.0 * abs(part), anyway=say(ANYWAY))


def missing(channels: Iterable[int]) -> str:
    """Return that readings are not there."""
    return say(
        "Readings are missing from channel {channels}: look at the cable of that cell",
        channels=_list(map(str, channels)),
    )


def at_end(channels: Iterable[int]) -> str:
    """Return that a converter is at its end."""
    return say(
        "Channel {channels} is at the end of its range: take load off, or look at its cable",
        channels=_list(map(str, channels)),
    )


def nothing_came(ask: Ask) -> str:
    """Return that nothing has changed for a while."""
    return say("Nothing has changed on {here} yet; if it lies as asked, press Space", here=plate(ask.placement.side))


AGAIN = mark("Lay it on anew; or press Space to take it as it lies")
MOVING = mark("The load still moves: let go of it. Is somebody on the plate, or leaning on it?")


def broken(ask: Ask, after_s: float) -> str:
    """Return that the load changed while it was measured."""
    if ask.placement.kind is Kind.CREEP:
        return say(
            "The load was touched after {lasted}. It has to be left alone: this step begins again",
            lasted=duration(after_s),
        )
    return say("The load moved while it was measured: this step begins again")


def _named(which: Iterable[int], masses: Sequence[Mass]) -> str:
    """Return the masses as they are called: `the 10 kg mass`, `both 20 kg masses`, `all 4 masses (60 kg)`."""
    chosen = [masses[place] for place in sorted(which)]
    if len(chosen) == 1:
        return say("the {name} mass", name=chosen[0].name)
    if len(chosen) == 2 and chosen[0].name == chosen[1].name:
        return say("both {name} masses", name=chosen[0].name)
    if len(chosen) == 2:
        return say("the {first} and the {second} mass", first=chosen[0].name, second=chosen[1].name)
    total = kilograms(sum(mass.kg for mass in chosen))
    if len(chosen) == len(masses):
        return say("all {count} masses ({total})", count=len(chosen), total=total)
    names = _list(mass.name for mass in chosen)
    return say("the {count} masses ({names}: {total})", count=len(chosen), names=names, total=total)


def _place(spot: Spot) -> str:
    return say("middle") if spot is Spot.MIDDLE else say("{spot} quarter", spot=say(spot))


def _spot(spot: Spot, sense: str = "") -> str:
    """Return on what a load is laid; in the sense LIES: on what it lies."""
    if spot is Spot.MIDDLE:
        return say("on the middle", sense)
    return say("on the {spot} quarter", sense, spot=say(spot))


def _list(words: Iterable[str]) -> str:
    *first, last = list(words)
    return say("{first} and {last}", first=", ".join(first), last=last) if first else last
