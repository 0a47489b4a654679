"""What a programme's file may hold, as JSON Schema (draft 2020-12): for editors that tell a mistake while it is typed.

It says of every key what may stand there. What does not go together it cannot say: that is `coherence`, and
`weightshare programme check` tells both, in words.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from weightshare.programme.criterion import ABOUT, FORMS, MEANT_BY_TARGET, NEAR_TARGET, Measure
from weightshare.programme.key import PROGRAMME_KEYS, SCHEMA, STAGE_KEYS, Key

DRAFT = "https://json-schema.org/draft/2020-12/schema"
_TEXTS = {"type": "object", "additionalProperties": {"type": "string"}}


def json_schema() -> dict[str, Any]:
    """Return the schema of a programme's file: TOML as plain values, a date as its text."""
    stage = _table(STAGE_KEYS, {"criteria": _criteria(), "sources": _TEXTS})
    stages = {"type": "array", "minItems": 1, "items": stage}
    more = {"schema": {"const": SCHEMA}, "sources": _TEXTS, "stages": stages}
    found = _table(PROGRAMME_KEYS, more)
    found["required"] = ["schema", *found["required"], "stages"]
    return {"$schema": DRAFT, "title": SCHEMA, **found}


def _table(keys: Sequence[Key], more: dict[str, Any]) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": {key.name: {"description": key.means, **key.kind.shape} for key in keys} | more,
        "required": [key.name for key in keys if key.needed],
        "additionalProperties": False,
    }


def _criteria() -> dict[str, Any]:
    measures = {str(one): {"description": ABOUT[one].words, **_limit(one)} for one in Measure}
    return {"type": "object", "properties": measures, "additionalProperties": False}


def _limit(measure: Measure) -> dict[str, Any]:
    if measure is Measure.CLINICIAN:
        return {"type": "string", "minLength": 1}
    forms = [form.pattern for form, _ in FORMS] + [NEAR_TARGET] * (measure in MEANT_BY_TARGET)
    return {"type": "string", "pattern": f"^(?:{'|'.join(forms)})$"}
