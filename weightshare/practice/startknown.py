"""What comes of setting up: the scales to practise on; and the remembered pair among what was found."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from weightshare.model import Side
from weightshare.practice.starttrial import Trial
from weightshare.records.pair import Footwear, Pair, PairedScale
from weightshare.scales.finder import Found, Sort


@dataclass(frozen=True, slots=True)
class Chosen:
    """What is practised on. `pair` is to be remembered; None for virtual scales."""

    sources: tuple[str, ...]
    sides: tuple[Side, Side] | None = None
    pair: Pair | None = None


def find_known(found: Iterable[Found], known: Pair) -> tuple[Found | None, ...]:
    """Return what was found of each scale of `known`, in its order; None for one that was not."""
    there = tuple(found)
    return tuple(next((one for one in there if is_same(one, scale)), None) for scale in known.scales)


def is_same(one: Found, scale: PairedScale) -> bool:
    """Return whether `one` is the scale that is remembered: by what it says of itself, else by how it is reached."""
    if one.identity is not None:
        return one.identity.device_id == scale.device_id
    return one.source == scale.source and one.sort is Sort.SCALE


def choose_known(found: Sequence[Found], known: Pair) -> Chosen:
    """Return `known` to practise on, each scale reached the way it was found now."""
    scales = tuple(replace(scale, source=one.source) for one, scale in zip(found, known.scales, strict=True))
    pair = replace(known, scales=scales)
    return Chosen(pair.sources, pair.sides, pair)


def choose_tried(trials: Sequence[Trial], sides: Mapping[str, Side], footwear: Footwear) -> Chosen:
    """Return the scales on trial to practise on; `sides` is whose foot is on each of two, by source."""
    sources = tuple(trial.source for trial in trials)
    first = sides.get(sources[0]) if len(sources) > 1 else None
    told = None if first is None else (first, first.other)
    if any(trial.is_virtual for trial in trials):
        return Chosen(sources, told)
    scales = tuple(_pair(trial, None if told is None else sides[trial.source]) for trial in trials)
    return Chosen(sources, told, Pair(scales, datetime.now().astimezone().isoformat(timespec="seconds"), footwear))


def _pair(trial: Trial, side: Side | None) -> PairedScale:
    identity, made = trial.identity, trial.calibration
    day = "" if made is None else made.made_on.isoformat()
    name, device_id = ("", "") if identity is None else (identity.name, identity.device_id)
    return PairedScale(device_id, trial.source, side, name, day)
