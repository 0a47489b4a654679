"""Writes what the documentation shows of exports from the list of columns: `python docs/columns.py`.

The tables in docs/export.md, and docs/export.schema.json.
"""

from __future__ import annotations

import json
from pathlib import Path

from weightshare.records.export.dictionary import to_markdown
from weightshare.records.export.document import json_schema

DOCS = Path(__file__).parent
BEGIN, END = "made by `python docs/columns.py`; a test holds it to the list in the code -->\n", "<!-- end -->"


def page(text: str) -> str:
    """Return the page with the tables as they are now."""
    head, _, rest = text.partition(BEGIN)
    return f"{head}{BEGIN}\n{to_markdown()}\n{END}{rest.partition(END)[2]}"


def schema() -> str:
    """Return the JSON Schema as it is now."""
    return json.dumps(json_schema(), indent=1, ensure_ascii=False) + "\n"


def main() -> None:
    """Write both."""
    export = DOCS / "export.md"
    export.write_text(page(export.read_text(encoding="utf-8")), encoding="utf-8")
    (DOCS / "export.schema.json").write_text(schema(), encoding="utf-8")


if __name__ == "__main__":
    main()
