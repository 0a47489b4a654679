"""The rows of the table of sets, from an analysis as its JSON object has it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from statistics import fmean
from typing import Any

from weightshare.metrology.estimate import Estimate
from weightshare.metrology.index import mean_of, sum_of
from weightshare.records.export.catalogue import BOTH, SETS
from weightshare.records.figure import SINGLE, height_u_of, travel_u_of

_FELL = ("height_fall_percent", "share_fall_points", "tempo_fall_percent")


def set_rows(content: Mapping[str, Any]) -> Iterator[dict[str, object]]:
    """Yield the rows of the table of sets, without the session; content: an analysis, as its JSON object."""
    worths = (content.get("uncertainty") or {}).get("repetitions") or ()
    is_single = content.get("exercise") in SINGLE
    for row in content.get("sets") or ():
        fatigue = row.get("fatigue") or {}
        yield {
            **{name: row.get(name) for name in SETS.names},
            "working": row["working"] if is_single else BOTH,
            **_spreads(row, content),
            "share_lowering_expanded_uncertainty_points": _mean_worth(row["repetitions"], worths),
            "start_s": row["from_s"],
            "end_s": row["to_s"],
            "repetitions": len(row["repetitions"]),
            **{name: fatigue.get(name) for name in _FELL},
            **_fell(row, fatigue, content),
        }


def _mean_worth(places: Iterable[int], worths: Sequence[Mapping[str, Any]]) -> float | None:
    """Return U of a set's mean share on the way down, points. What the instrument has wrong is nearly the same in all
    of them, so it is no smaller in their mean (JCGM 100:2008, 5.2.2, note 1)."""
    told = [worths[place]["share_lowering_points"] for place in places if place < len(worths)]
    known = [points for points in told if points is not None]
    return fmean(known) if known else None


def _spreads(row: Mapping[str, Any], content: Mapping[str, Any]) -> dict[str, float | None]:
    """Return the standard uncertainties of a set's means and sums over its repetitions."""
    mine = [content["repetitions"][place] for place in row["repetitions"]]
    heel = "injured" if row["working"] == content["injured_side"] else "uninjured"

    def known(name: str) -> list[float]:
        return [one[name] for one in mine if one.get(name) is not None]

    heights = known(f"height_{heel}_mm")
    u_mm = height_u_of(content, fmean(heights)) if heights else None
    found = {
        "lowering_duration_standard_uncertainty_s": mean_of(known("lowering_duration_s")),
        "height_standard_uncertainty_mm": mean_of(heights, u_mm or 0.0),
    }
    for side in ("injured", "uninjured"):
        work, u_J = known(f"load_travel_{side}_J"), travel_u_of(content, side, row["repetitions"])
        # a sum with a term missing is none
        whole = sum_of(work, u_J or 0.0) if len(work) == len(mine) else None
        found[f"load_travel_{side}_standard_uncertainty_J"] = whole
    return {name: _finite_u(one) for name, one in found.items()}


def _fell(row: Mapping[str, Any], fatigue: Mapping[str, Any], content: Mapping[str, Any]) -> dict[str, float | None]:
    """Return the standard uncertainties of how far height and share fell: what the spread over the first and over the
    last repetitions leaves in 100 (1 - last / first), and in their difference (JCGM 100:2008, 5.1.2)."""
    each, found = fatigue.get("repetitions_each", 0), dict[str, float | None]()
    mine = [content["repetitions"][place] for place in row["repetitions"]]
    heel = "injured" if row["working"] == content["injured_side"] else "uninjured"
    for name, key in (("height_fall_percent", f"height_{heel}_mm"), ("share_fall_points", "share_lowering_percent")):
        if fatigue.get(name) is None:
            continue
        ends = (mean_of([one[key] for one in some]) for some in (mine[:each], mine[-each:]))
        first, last = (one or Estimate(math.nan, math.nan) for one in ends)
        slopes = (1.0, 1.0) if key.startswith("share") else (100.0 * last.value / first.value**2, 100.0 / first.value)
        stem, _, unit = name.rpartition("_")
        u = math.hypot(slopes[0] * first.u, slopes[1] * last.u)
        found[f"{stem}_standard_uncertainty_{unit}"] = u if math.isfinite(u) else None
    return found


def _finite_u(one: Estimate | None) -> float | None:
    return None if one is None or not math.isfinite(one.u) else one.u
