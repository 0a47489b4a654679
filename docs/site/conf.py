"""How the documentation becomes a site: `make docs`. Pages are the project's Markdown files as they lie there.

Nothing in the pages is fetched from a network: no fonts, no scripts from elsewhere.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

_TOP = Path(__file__).parents[2]
_VERSION = re.search(r'__version__ = "([^"]+)"', (_TOP / "weightshare" / "__init__.py").read_text(encoding="utf-8"))

project = "weightshare"
copyright = "the weightshare contributors, MIT licence"
release = version = _VERSION[1] if _VERSION else ""
extensions = ["myst_parser", "sphinx.ext.autodoc"]
root_doc = "docs/site/contents"
include_patterns = [
    "*.md",
    *(f"{folder}/{place}*.md" for folder in ("docs", "hardware", "calibration") for place in ("", "**/")),
]
exclude_patterns = [".venv", "build", ".git", "tests", "weightshare", "**/__pycache__"]
language = "en_GB"
nitpicky = False

myst_heading_anchors = 4
myst_enable_extensions = ["colon_fence"]

autodoc_typehints = "signature"
autodoc_member_order = "bysource"
autodoc_preserve_defaults = True
default_role = "code"
python_use_unqualified_type_names = True
add_module_names = False

html_theme = "alabaster"
html_title = "weightshare"
html_static_path = ["static"]
html_extra_path = ["index.html"]
html_css_files = ["site.css"]
html_show_sphinx = False
html_copy_source = False
html_sidebars = {"**": ["about.html", "searchfield.html", "navigation.html"]}
html_theme_options = {
    "description": "How the load is shared between the two feet",
    "fixed_sidebar": True,
    "page_width": "72rem",
    "sidebar_width": "17rem",
    "body_max_width": "48rem",
    "font_family": "'DejaVu Sans', Verdana, sans-serif",
    "head_font_family": "'DejaVu Sans', Verdana, sans-serif",
    "code_font_family": "'DejaVu Sans Mono', Menlo, Consolas, monospace",
}


def setup(app: Any) -> None:
    """Have links to folders, which a site has no page for, read as plain words, and docstrings as paragraphs."""
    app.connect("source-read", _without_folders)
    app.connect("autodoc-process-docstring", _without_hanging_indents)


def _without_folders(_app: Any, _name: str, source: list[str]) -> None:
    source[0] = re.sub(r"\[([^\]]+)\]\((?!\w+:)[\w./-]+/\)", r"\1", source[0])


def _without_hanging_indents(_app: Any, _what: str, _name: str, _object: Any, _options: Any, lines: list[str]) -> None:
    """What is said of a parameter hangs over several lines in the source, which the generator would take for a list."""
    lines[:] = [line.strip() for line in lines]
