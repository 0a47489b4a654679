"""From what is known at one moment to what is shown of it: figures with their ages, and in words what to do."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.message import retell
from weightshare.practice.screen import Shape
from weightshare.practice.settled import TOGETHER_S, Book, Freshness, Pair, age_s, freshness
from weightshare.practice.settledview import (
    SettledView,
    ShareView,
    SideView,
    say_age,
    say_foot,
    say_kg,
    say_original,
    say_percent,
    sentence,
)
from weightshare.scales.air.settled import SettledPhase, SettledStatus
from weightshare.task import Settings
from weightshare.tongue import mark, say

ONE_ASK = mark("{foot:C} foot on the scale, the other beside it on something just as high. Hold the rail, stand still.")
TWO_ASK = mark("One foot on each scale. Hold the rail, stand still until both have settled.")
UNUSABLE = mark("cannot be used: see below")
AGAIN = mark("For a new reading step off, and on again.")
TAKE_WEIGHT = mark("For percent of body weight, stand on the scale with both feet once, and press W.")
TOLERATED_PART = 0.05
"""How far both readings together may be from body weight, as part of it, before that is said."""


@dataclass(frozen=True, slots=True)
class Moment:
    """What is known at `now_ns` (host's monotonic clock, ns), from which all that is shown is made.

    `links` has a status for each side that has a scale; `body_kg` is the body weight where it is known, kg;
    `recording` says what of the record is being lost.
    """

    book: Book
    links: dict[Side, SettledStatus]
    settings: Settings
    now_ns: int
    body_kg: float | None = None
    recording: str = ""
    _loads: dict[Side, float | None] = field(init=False)

    def __post_init__(self) -> None:
        loads = {side: self.book.load_kg(side, self.now_ns) for side in self.book.sides}
        object.__setattr__(self, "_loads", loads)

    def compose(self) -> SettledView:
        """Return what is shown."""
        share, two = self._share(), self._is_double
        shape, headline = self._headline()
        troubles = dict.fromkeys(
            sentence(retell(link.words)) for link in self.links.values() if link.phase is SettledPhase.REFUSED
        )
        notes = *troubles, retell(self.recording), *map(self._kept_words, self.book.sides), self._sum_words()
        return SettledView(
            headline,
            shape,
            tuple(map(self._side, self.book.sides)),
            share,
            "" if share is not None else self._missing_words() if two else "" if self.body_kg else say(TAKE_WEIGHT),
            "" if self.body_kg is None else say("body weight {weight}", weight=say_kg(self.body_kg)),
            tuple(filter(None, notes)),
            self.weight_kg is not None,
        )

    @property
    def weight_kg(self) -> float | None:
        """What may be taken as body weight: the one scale's fresh reading, or both together, kg; None: nothing may."""
        if not self._is_double:
            side = self.book.sides[0]
            return self._loads[side] or None if self._freshness(side) is Freshness.FRESH else None
        pair = self._pair
        return pair.total_kg or None if pair is not None and freshness(pair.age_s) is Freshness.FRESH else None

    @property
    def _is_double(self) -> bool:
        return len(self.book.sides) > 1

    @property
    def _pair(self) -> Pair | None:
        return self.book.pair(self.settings.injured, self.now_ns) if self._is_double else None

    def _age_s(self, side: Side) -> float:
        heard = self.book.newest(side)
        return math.inf if heard is None else age_s(heard, self.now_ns)

    def _freshness(self, side: Side) -> Freshness:
        return freshness(self._age_s(side))

    def _side(self, side: Side) -> SideView:
        heard, load, link = self.book.newest(side), self._loads[side], self.links[side]
        shape, state = self._state(side)
        refused = link.phase is SettledPhase.REFUSED
        battery = "" if link.battery_percent is None else say("battery {battery} %", battery=link.battery_percent)
        return SideView(
            side,
            say_foot(side, self.settings),
            shape,
            state,
            "" if load is None else say_kg(load),
            "" if load is None or not self._is_double else say_percent(load, self.body_kg),
            "" if load is None or heard is None else say_original(heard),
            shape is Shape.DIAMOND,
            "  \u00b7  ".join(filter(None, (link.name, battery))),
            say(UNUSABLE) if refused else retell(link.words),
            refused,
        )

    def _state(self, side: Side) -> tuple[Shape, str]:
        """Return the mark of a reading, and how it stands."""
        heard, fresh = self.book.newest(side), self._freshness(side)
        if heard is None:
            return Shape.RING, say("no reading yet")
        if fresh is Freshness.GONE:
            return Shape.RING, say("the last reading is over 3 min old")
        ago = say_age(self._age_s(side))
        if heard.weighing is None:
            return Shape.CROSS, say("not to be read, {ago}", ago=ago)
        if heard.weighing.has_failed:
            return Shape.CROSS, say("could not weigh, {ago}", ago=ago)
        return (Shape.DIAMOND, say("OLD: {ago}", ago=ago)) if fresh is Freshness.OLD else (Shape.DISC, ago)

    def _headline(self) -> tuple[Shape, str]:
        """Return what matters most now: too much load, what went wrong, what was read, or what to do."""
        if self._is_over:
            return Shape.CROSS, say(
                "Over the limit of {limit:.1f} kg on the {injured} foot: take weight off.",
                limit=self._limit_kg,
                injured=self.settings.injured,
            )
        wrong = next(filter(None, map(self._wrong, self.book.sides)), "")
        if wrong:
            return Shape.CROSS, wrong
        shown = [side for side, load in self._loads.items() if load is not None]
        if not shown:
            return Shape.RING, say(TWO_ASK) if self._is_double else say(ONE_ASK, foot=self.book.sides[0])
        if self._is_double and self._pair is None:
            return self._unpaired(shown)
        if any(self._freshness(side) is Freshness.OLD for side in shown):
            return Shape.DIAMOND, say("Old by now. {again}", again=say(AGAIN))
        settled = mark("Both have settled. {again}") if self._is_double else mark("The scale has settled. {again}")
        return Shape.DISC, say(settled, again=say(AGAIN))

    @property
    def _is_over(self) -> bool:
        injured, limit = self.settings.injured, self._limit_kg
        load = self._loads.get(injured)
        if limit is None or load is None:
            return False
        return load > limit and self._freshness(injured) is Freshness.FRESH

    @property
    def _limit_kg(self) -> float | None:
        """The most load that the injured side may take, kg; None without a limit, or while it is not known."""
        if self.settings.ceiling is None:
            return None
        limit_N = self.settings.ceiling.limit_N(None if self.body_kg is None else self.body_kg * STANDARD_GRAVITY)
        return None if limit_N is None else limit_N / STANDARD_GRAVITY

    def _wrong(self, side: Side) -> str:
        """Return what keeps a side from being read, and what to do; empty where nothing does."""
        if self.links[side].phase is SettledPhase.REFUSED:
            return say("The scale under the {side} foot cannot be used.", side=side)
        heard = self.book.newest(side)
        if heard is None or self._freshness(side) is Freshness.GONE:
            return ""
        if heard.weighing is None:
            return say("The {side} scale sent what cannot be read. {again}", side=side, again=say(AGAIN))
        if heard.weighing.has_failed:
            return say(
                "The {side} scale could not weigh. Step off until it shows 0, step on again, stand still.", side=side
            )
        return ""

    def _unpaired(self, shown: list[Side]) -> tuple[Shape, str]:
        if len(shown) < len(self.book.sides):
            return Shape.RING, say("Stand still: the {other} scale has not settled yet.", other=shown[0].other)
        return Shape.DIAMOND, say(
            "The two readings do not belong together. Step off both, and stand on both once more."
        )

    def _missing_words(self) -> str:
        """Say why two scales make no share now."""
        apart = self.book.apart_s()
        if None in self._loads.values() or apart is None:
            return say("no share without a reading of each foot")
        return say(
            "no share: the two readings came {apart:.0f} s apart; {together:.0f} s is the most",
            apart=apart,
            together=TOGETHER_S,
        )

    def _share(self) -> ShareView | None:
        pair, injured = self._pair, self.settings.injured
        if not self._is_double:
            return self._part_of_body(self.book.sides[0])
        share = None if pair is None else pair.share_percent
        if pair is None or share is None:
            return None
        symmetry = pair.symmetry_percent
        return ShareView(
            f"{share:.0f} %",
            say("on the {injured} foot", injured=injured),
            say("{age}, {apart:.0f} s apart", age=say_age(pair.age_s), apart=pair.apart_s),
            ""
            if symmetry is None
            else say(
                "{injured} is {symmetry:.0f} % of {other}", injured=injured, symmetry=symmetry, other=injured.other
            ),
            self._asked_words(share),
            freshness(pair.age_s) is not Freshness.FRESH,
        )

    def _part_of_body(self, side: Side) -> ShareView | None:
        load = self._loads[side]
        if load is None or not self.body_kg:
            return None
        part = 100.0 * load / self.body_kg
        asked = self._asked_words(part) if side is self.settings.injured else ""
        label = say("of body weight on the {side} foot", side=side)
        faded = self._freshness(side) is not Freshness.FRESH
        return ShareView(f"{part:.0f} %", label, say_age(self._age_s(side)), asked=asked, faded=faded)

    def _asked_words(self, share: float) -> str:
        """Say what was asked for, and whether the share as shown is that; nothing for what is done in repetitions."""
        band = self.settings.band_percent
        if band is None or self.settings.is_repeated:
            return ""
        low, high = band
        said = say("too little") if round(share) < low else say("too much") if round(share) > high else say("reached")
        return say("asked: {low:g} to {high:g} %: {said}", low=low, high=high, said=said)

    def _kept_words(self, side: Side) -> str:
        """Say that a scale sent a reading from an earlier time, which is not shown as a new one."""
        heard = self.book.kept(side)
        if heard is None or heard.weighing is None or heard.weighing.stamp is None:
            return ""
        return say(
            "The {side} scale sent a reading of {stamp:%Y-%m-%d at %H:%M}, which is not shown. "
            "If you were on it just now, its clock is wrong: weigh once more.",
            side=side,
            stamp=heard.weighing.stamp,
        )

    def _sum_words(self) -> str:
        """Say where both readings do not come to body weight: weight is elsewhere, or the person moved in between."""
        pair, body = self._pair, self.body_kg
        if pair is None or not body or math.isclose(pair.total_kg, body, rel_tol=TOLERATED_PART):
            return ""
        return say(
            "Both together read {total} of your {weight}: part of your weight is elsewhere, or you moved in between.",
            total=say_kg(pair.total_kg),
            weight=say_kg(body),
        )
