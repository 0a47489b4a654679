"""An analysis with what it says of the stage that it was of: as lines, or as one JSON object."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from weightshare.records.appraisal import Appraisal
    from weightshare.records.assessment import Assessment


def print_appraisal(appraisal: Appraisal, assessment: Assessment | None, *, as_json: bool) -> None:
    """Print an analysis, and after it what it says of its stage; as one JSON object that is the key `programme`."""
    if as_json:
        more = {} if assessment is None else {"programme": assessment.to_json()}
        print(json.dumps({**appraisal.to_json(), **more}))
        return
    from weightshare.cli.table import appraisal_table

    print(appraisal_table(appraisal))
    if assessment is not None:
        print("\n".join(["", *assessment.lines()]))
