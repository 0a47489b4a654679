"""The stages of a programme as lines that a clinician reads, and as plain values."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from weightshare.exercise import Surface
from weightshare.programme.criterion import ABOUT, Criterion, Measure
from weightshare.programme.key import STAGE_KEYS
from weightshare.programme.stage import Programme, Stage

CAUTION = "The treating clinician and the surgeon's protocol decide; none of this is a permission."


def show_programme(programme: Programme) -> str:
    """Return a programme as lines: each stage, what it asks for, and what has to hold before the next."""
    lines = [f"{programme.name}, version {programme.version}", *([programme.about] if programme.about else [])]
    for number, stage in enumerate(programme.stages, start=1):
        shut = ", ".join(stage.shut)
        lock = f"  (locked: {shut})" if shut else f"  (freed by {stage.freed_by}, {stage.freed_on})" * bool(stage.freed)
        lines += ["", f"{number:2}  {stage.key}: {stage.name}{lock}", f"    {say_asked(stage)}"]
        limit = programme.pain_limit_of(stage)
        lines += [] if limit is None else [f"    pain: {limit} of 10 at most"]
        days = f", on {stage.days} days" if stage.days > 1 else ""
        lines += [f"    to go on{days}: {say_criterion(one, stage)}" for one in stage.criteria]
    return "\n".join([*lines, "", CAUTION])


def say_asked(stage: Stage) -> str:
    """Return in one line what `stage` asks for."""
    said = [str(stage.exercise)]
    if stage.knee is not None:
        said.append(f"knee {stage.knee}")
    if stage.exercise.lifts_heels:
        below = ", below level" if stage.below_level else ""
        said.append(f"on {'a step' if stage.surface is Surface.STEP else 'the floor'}{below}")
    said += [say_load(stage), _say_amount(stage)]
    said += [] if stage.tempo is None else [f"tempo {stage.tempo}"]
    said += [f"{stage.added_weight_kg:g} kg added"] if stage.added_weight_kg else []
    said += [] if stage.stand_s is None else [f"warm-up stand {stage.stand_s:g} s"]
    said += [] if stage.ceiling is None else [f"never over {stage.ceiling}"]
    return ", ".join(part for part in said if part)


def say_load(stage: Stage) -> str:
    """Return what is asked of the load: a share, or in supported work a load."""
    if stage.supported:
        return f"supported, {stage.load} +- {stage.load_tolerance_kg:g} kg on the injured side"
    if stage.target_percent is None:
        return f"on the {stage.leg} leg" if not stage.to_exhaustion else "each leg in turn"
    spread = "or more" if stage.one_sided else f"+- {stage.tolerance_points:g} points"
    return f"{stage.target_percent:g} % {spread}"


def _say_amount(stage: Stage) -> str:
    if not stage.exercise.is_repeated:
        return f"{stage.holds} holds of {stage.hold_s:g} s"
    many = "as many as can be done" if stage.to_exhaustion else f"{stage.repetitions} repetitions"
    return f"{stage.sets} sets, {many}, rest {stage.rest_s:g} s"


def say_criterion(one: Criterion, stage: Stage) -> str:
    """Return a criterion of `stage` in words."""
    about = ABOUT[one.measure]
    if one.measure is Measure.CLINICIAN:
        return f"{about.words}: {one.words}"
    limit = str(one)
    if one.near_target and stage.target_percent is not None:
        low, high = stage.target_percent - stage.mean_points, stage.target_percent + stage.mean_points
        limit = f"at least {low:g}" if stage.one_sided else f"{low:g} to {high:g}"
    return " ".join(part for part in (about.words, limit, about.unit) if part)


def to_json(programme: Programme) -> dict[str, Any]:
    """Return the stages as plain values, each with every key, said or not, and with what still locks it."""
    kinds = {key.name: key.kind for key in STAGE_KEYS}
    found = []
    for stage in programme.stages:
        plain = {
            field.name: _plain(getattr(stage, field.name), field.name, kinds)
            for field in fields(stage)
            if field.name not in ("criteria", "sources")
        }
        plain["pain_limit"] = programme.pain_limit_of(stage)
        plain["locked_by"] = [str(lock) for lock in stage.shut]
        plain["criteria"] = {str(one.measure): str(one) for one in stage.criteria}
        plain["sources"] = {key: programme.source_of(stage, key) for key in plain["criteria"]}
        found.append(plain)
    return {"source": programme.source, "stages": found}


def _plain(value: object, name: str, kinds: dict[str, Any]) -> Any:
    if value is None or name == "freed_on":
        return value
    return list(value) if isinstance(value, tuple) and not value else kinds[name].write(value)
