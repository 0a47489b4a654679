"""The figures of a repetition whose phases were moved by hand, made anew from its samples."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

import numpy as np

from weightshare.errors import OptionError
from weightshare.exercise import Basis, Exercise, Phase, Repetition
from weightshare.model import Floats
from weightshare.pipeline.figure import FIGURES, Rows, find_band, is_supported, load_travel
from weightshare.pipeline.motion import Ground
from weightshare.pipeline.portion import find_share
from weightshare.pipeline.repetition import Stretch, find_unsteadiness
from weightshare.pipeline.tape import Tape

Span = tuple[float, float]
LEAST_S = 0.05
"""No way up or down is shorter."""
_EDGES = {
    Phase.RISE: ("start_s", "top_s"),
    Phase.TOP: ("top_s", "lowering_s"),
    Phase.LOWERING: ("lowering_s", "end_s"),
}


def phases_of(one: Repetition, *, down_first: bool) -> dict[Phase, Span]:
    """Return the phases that are known of a repetition, each from when to when, s. `down_first`: it is a squat."""
    if down_first:
        return _phases_down_first(one)
    edges = {phase: (getattr(one, begin), getattr(one, end)) for phase, (begin, end) in _EDGES.items()}
    return {phase: (begin, end) for phase, (begin, end) in edges.items() if begin is not None and end is not None}


def _phases_down_first(one: Repetition) -> dict[Phase, Span]:
    found = {}
    if one.lowering_s is not None and one.lowering_duration_s is not None:
        found[Phase.LOWERING] = one.lowering_s, one.lowering_s + one.lowering_duration_s
    if one.top_s is not None and one.rise_duration_s is not None:
        found[Phase.RISE] = one.top_s - one.rise_duration_s, one.top_s
    return found


def move_phase(one: Repetition, phase: Phase, span: Span, *, down_first: bool) -> Repetition:
    """Return `one` with a phase from `span[0]` to `span[1]`, s; what it touches ends or begins there. No figure but
    the durations is another. Raises OptionError where the phases were out of their order then."""
    if not (np.isfinite(span).all() and span[0] <= span[1]):
        raise OptionError(f"--phase {phase}: give from when to when, s, the earlier one first")
    if down_first:
        moved = _move_down_first(one, phase, span)
    elif phase not in _EDGES:
        raise OptionError(f"--phase {phase}: give rise, top or lowering")
    else:
        edges: dict[str, Any] = dict(zip(_EDGES[phase], span, strict=True))
        moved = replace(one, **edges)
        spans = phases_of(moved, down_first=False)
        lengths: dict[str, Any] = {f"{each}_duration_s": to_s - from_s for each, (from_s, to_s) in spans.items()}
        moved = replace(moved, **lengths)
    _check_order(moved, phase, down_first=down_first)
    return moved


def _move_down_first(one: Repetition, phase: Phase, span: Span) -> Repetition:
    from_s, to_s = span
    if phase is Phase.LOWERING:
        return replace(one, start_s=from_s, lowering_s=from_s, lowering_duration_s=to_s - from_s)
    if phase is Phase.RISE:
        return replace(one, top_s=to_s, end_s=to_s, rise_duration_s=to_s - from_s)
    raise OptionError(f"--phase {phase}: a squat has a lowering and a rise")


def _check_order(one: Repetition, phase: Phase, *, down_first: bool) -> None:
    spans = phases_of(one, down_first=down_first)
    order = (Phase.LOWERING, Phase.RISE) if down_first else tuple(_EDGES)
    known = [instant for each in order if each in spans for instant in spans[each]]
    short = any(spans[each][1] - spans[each][0] < LEAST_S for each in (Phase.RISE, Phase.LOWERING) if each in spans)
    if short or any(late < early for early, late in pairwise(known)):
        told = ", ".join(f"{each} {spans[each][0]:.3f} to {spans[each][1]:.3f} s" for each in order if each in spans)
        raise OptionError(f"--phase {phase}: the phases would be out of their order: {told}")


@dataclass(frozen=True, slots=True, eq=False)
class Anew:
    """Makes figures anew. `tape` has the rows that `Rows` names over the repetition; `row` is the working heel's.

    What cannot be had any more is None: of a raise by the forces the thirds of its way down, since the travel by which
    they were cut is that of the ends that were found.
    """

    tape: Tape
    ground: Ground
    row: int = Rows.INJURED_MM
    down_first: bool = False

    def make(self, before: Repetition, moved: Repetition, told: frozenset[Phase] = frozenset()) -> Repetition:
        """Return `moved`, whose phases are others than those of `before`, with all figures of the phases that are.

        told: phases both ends of which were told; of others a share that the forces could not tell stays unknown.
        """
        old = phases_of(before, down_first=self.down_first)
        new = phases_of(moved, down_first=self.down_first)
        made: dict[str, Any] = {}
        for phase, span in new.items():
            if span != old.get(phase):
                unsure = before.basis is Basis.FORCE and phase in old and phase not in told
                was = getattr(before, f"share_{phase}_percent")
                stretch = self._stretch(span)
                share = None if unsure and was is None else self._share(stretch, before.basis)
                made |= {f"share_{phase}_percent": share, f"{phase}_duration_s": span[1] - span[0]}
                made |= self._figures(phase, stretch, before)
        # who sits has a part of the weight on the chair: there the load of standing tells
        on_chair = self.ground.settings.exercise is Exercise.SIT_TO_STAND
        if (moved.start_s, moved.end_s) != (before.start_s, before.end_s) and not on_chair:
            made["supported"] = self._supported(new)
        return replace(moved, **made)

    def _stretch(self, span: Span) -> Stretch:
        delay_s = self.ground.delay_s
        return Stretch.of(self.tape, FIGURES, span[0] + delay_s, span[1] + delay_s)

    def _share(self, stretch: Stretch, basis: Basis) -> float | None:
        by_forces = basis is Basis.FORCE and not self.down_first
        return find_share(stretch, (0.0, 0.0)) if by_forces else stretch.share_percent()

    def _figures(self, phase: Phase, stretch: Stretch, one: Repetition) -> Mapping[str, Any]:
        if phase is Phase.RISE:
            travel = load_travel(stretch, (one.height_injured_mm, one.height_uninjured_mm))
            return dict(zip(("load_travel_injured_J", "load_travel_uninjured_J"), travel, strict=True))
        if phase is Phase.TOP:
            time_s, values = self._between(stretch)
            by_height = one.basis is Basis.HEIGHT
            return {
                "top_height_sd_mm": find_unsteadiness(time_s, values[self.row]) if by_height else None,
                "top_share_sd_points": stretch.unsteadiness_points(),
            }
        band = find_band(self.ground.settings, self.row)
        return {
            "share_lowering_thirds_percent": self._thirds(stretch, one.basis),
            "lowering_in_band_percent": None if band is None else stretch.in_band_percent(band),
            "lowering_least_N": stretch.least_N(),
        }

    def _between(self, stretch: Stretch) -> tuple[Floats, Floats]:
        """Return the samples in a stretch, without its ends: times (n,) and rows (rows, n)."""
        inside = (self.tape.time_s >= stretch.time_s[0]) & (self.tape.time_s <= stretch.time_s[-1])
        return self.tape.time_s[inside], self.tape.values[:, inside]

    def _thirds(self, stretch: Stretch, basis: Basis) -> tuple[float | None, float | None, float | None] | None:
        if basis is Basis.FORCE:
            return None
        if basis is Basis.PACED:
            way: Floats = stretch.time_s[-1] - stretch.time_s
            return stretch.thirds_percent(way, float(way[0]), 0.0)
        _, values = self.tape.between(float(stretch.time_s[0]), float(stretch.time_s[-1]))
        height, known = values[self.row], ~np.isnan(values[self.row])
        if not known.any():
            return None, None, None
        height = np.interp(stretch.time_s, stretch.time_s[known], height[known])
        return stretch.thirds_percent(height, float(height[0]), float(height[-1]))

    def _supported(self, spans: Mapping[Phase, Span]) -> bool | None:
        delay_s = self.ground.delay_s
        from_s, to_s = min(span[0] for span in spans.values()), max(span[1] for span in spans.values())
        inside = (self.tape.time_s >= from_s + delay_s) & (self.tape.time_s <= to_s + delay_s)
        return is_supported(self.tape.values[Rows.PLATES_PERCENT, inside])
