"""A programme as the text of its file, and a stage freed in it with all else left as the clinician wrote it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from datetime import date
from typing import Any

from weightshare.programme.key import PROGRAMME_KEYS, SCHEMA, STAGE_KEYS, Key
from weightshare.programme.reading import ProgrammeError, read_programme
from weightshare.programme.shelf import Kept
from weightshare.programme.stage import Lock, Programme, Source, Stage


def write_programme(programme: Programme) -> str:
    """Return `programme` as TOML that reads back equal: every key that is not as it is without being said."""
    import tomlkit

    document = tomlkit.document()
    document["schema"] = SCHEMA
    for name, value in _said(programme, PROGRAMME_KEYS, {"stages", "sources"}).items():
        document[name] = value
    if programme.sources:
        document["sources"] = _sources(programme.sources)
    stages = tomlkit.aot()
    for stage in programme.stages:
        table = tomlkit.table()
        for name, value in _said(stage, STAGE_KEYS, {"criteria", "sources"}).items():
            table[name] = value
        if stage.criteria:
            table["criteria"] = {str(one.measure): str(one) for one in stage.criteria}
        if stage.sources:
            table["sources"] = _sources(stage.sources)
        stages.append(table)
    document["stages"] = stages
    return tomlkit.dumps(document)


def _said(value: Programme | Stage, keys: Sequence[Key], left_out: set[str]) -> dict[str, Any]:
    kinds = {key.name: key.kind for key in keys}
    plain = {field.name: field.default for field in fields(value) if field.name not in left_out}
    return {
        name: kinds[name].write(getattr(value, name))
        for name, default in plain.items()
        if getattr(value, name) != default
    }


def _sources(sources: Sequence[Source]) -> dict[str, str]:
    return {one.key: one.words for one in sources}


def free_stage(kept: Kept, wanted: str, locks: Sequence[Lock], *, by: str, on: date) -> str:
    """Return the text of `kept` with the stage `wanted` freed of `locks` (none: of all), by whom and when.

    Comments and order stay. Raises ProgrammeError where there is no such stage or lock.
    """
    import tomlkit

    stage = kept.find(wanted)
    wrong = [str(lock) for lock in locks if lock not in stage.locks]
    if wrong or not stage.locks:
        what = f"is not locked by {', '.join(wrong)}" if wrong else "is not locked"
        raise ProgrammeError(f"{kept.place}: stage {stage.key} {what}")
    freed = {*stage.freed, *(locks or stage.locks)}
    document: Any = tomlkit.parse(kept.text)
    table = document["stages"][kept.programme.stages.index(stage)]
    table["freed"] = [str(lock) for lock in Lock if lock in freed]
    table["freed_by"], table["freed_on"] = by, on
    changed = tomlkit.dumps(document)
    read_programme(changed, kept.place)
    return changed
