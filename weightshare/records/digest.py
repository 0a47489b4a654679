"""What a session's analysis.json keeps, as the values it was made of: read at once, where analysing takes longer."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from weightshare.errors import OptionError, RecordError
from weightshare.exercise import Basis, CeilingEvent, Rejected, Repetition
from weightshare.pipeline.result import SCHEMA, Analysis, BandSummary, Gap, rounded
from weightshare.records.value import from_plain
from weightshare.state import Alignment, Hold

_Value = TypeVar("_Value")


@dataclass(frozen=True, slots=True)
class Digest:
    """What an analysis found. Times are the session's own, s; figures are rounded to six decimals, as they are kept.

    `holds` and `ceiling` are None where none were looked for; `load_N` is the load that was asked for in supported
    work and its tolerance, None elsewhere; `share_doubt_points` is the expanded uncertainty of the mean share.
    """

    duration_s: float
    rate_Hz: float
    body_weight_N: float | None
    share_percent: float | None
    band: BandSummary | None
    load_N: tuple[float, float] | None
    basis: Basis | None
    holds: tuple[Hold, ...] | None
    repetitions: tuple[Repetition, ...]
    rejected: tuple[Rejected, ...]
    gaps: tuple[Gap, ...]
    ceiling: tuple[CeilingEvent, ...] | None
    alignment: Alignment | None
    warnings: tuple[str, ...]
    share_doubt_points: float | None = None


def digest_of(analysis: Analysis, share_doubt_points: float | None = None) -> Digest:
    """Return the digest of an analysis that was just made: what reading its JSON would give."""
    content = analysis.to_json()
    return _parse({**content, "uncertainty": {"share_mean_points": rounded(share_doubt_points)}})


def read_digest(path: Path) -> Digest:
    """Return the digest that the analysis.json at `path` holds.

    Raises RecordError, which names the file, where it cannot be read or was written by another version.
    """
    try:
        content = json.loads(path.read_bytes())
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    except (ValueError, RecursionError) as error:
        raise RecordError(f"{path}: holds no analysis that this version knows") from error
    return parse_digest(content, path)


def parse_digest(content: Any, path: Path) -> Digest:
    """Return the digest of an analysis as its JSON object has it; `path` is where it was read. Raises as that does."""
    try:
        if content["schema"] != SCHEMA:
            raise RecordError(f"{path}: is of another version ({content['schema']}); this program reads {SCHEMA}")
        return _parse(content)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, OptionError) as error:
        raise RecordError(f"{path}: holds no analysis that this version knows") from error


def _parse(content: dict[str, Any]) -> Digest:
    band, load, basis = content["band"], content.get("load"), content.get("basis")
    repetitions = _all(Repetition, content["repetitions"])
    if basis is None and repetitions:
        basis = repetitions[0].basis
    alignment = content.get("alignment")
    return Digest(
        duration_s=float(content["duration_s"]),
        rate_Hz=float(content["rate_Hz"]),
        body_weight_N=content["body_weight_N"],
        share_percent=content["share_percent"]["mean"],
        band=None if band is None else from_plain(BandSummary, band),
        load_N=None if load is None else (float(load["target_N"]), float(load["tolerance_N"])),
        basis=None if basis is None else Basis(basis),
        holds=_all_or_none(Hold, content["holds"]),
        repetitions=repetitions,
        rejected=_all(Rejected, content["rejected"]),
        gaps=_all(Gap, content["gaps"]),
        ceiling=_all_or_none(CeilingEvent, content.get("ceiling")),
        alignment=None if alignment is None else from_plain(Alignment, alignment),
        warnings=tuple(str(words) for words in content["warnings"]),
        share_doubt_points=(content.get("uncertainty") or {}).get("share_mean_points"),
    )


def _all(kind: type[_Value], values: Iterable[object]) -> tuple[_Value, ...]:
    return tuple(from_plain(kind, value) for value in values)


def _all_or_none(kind: type[_Value], values: Iterable[object] | None) -> tuple[_Value, ...] | None:
    return None if values is None else _all(kind, values)
