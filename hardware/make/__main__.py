"""Writes the drawings and the tables: `python -m hardware.make`; with `--check` it only says what is out of date."""

from __future__ import annotations

import sys
from pathlib import Path

from hardware.make.heel import draw_heel
from hardware.make.input import draw_input
from hardware.make.mount import draw_assembly, draw_mount, draw_side
from hardware.make.page import fill
from hardware.make.plan import HERE
from hardware.make.plate import draw_drilling, draw_pair
from hardware.make.wiring import draw_half_bridge, draw_standard, draw_two_boards
from weightshare.report.svg import to_svg

DRAWINGS = {
    "plate": draw_drilling,
    "side": draw_side,
    "mount": draw_mount,
    "heel": draw_heel,
    "assembly": draw_assembly,
    "pair": draw_pair,
    "wiring": draw_standard,
    "wiring-two-boards": draw_two_boards,
    "wiring-half-bridge": draw_half_bridge,
    "input": draw_input,
}


def make() -> dict[Path, str]:
    """Return every drawing and every page as it ought to be, by where it is kept."""
    made = {HERE / "drawings" / f"{name}.svg": to_svg(draw()) for name, draw in DRAWINGS.items()}
    return made | {page: fill(page.read_text(encoding="utf-8")) for page in sorted(HERE.glob("*.md"))}


def main() -> int:
    """Write what is out of date, or with `--check` say so and return 1."""
    old = {path: text for path, text in make().items() if not path.exists() or path.read_text(encoding="utf-8") != text}
    for path, text in old.items():
        print(path.relative_to(HERE))
        if "--check" not in sys.argv:
            path.write_text(text, encoding="utf-8")
    return int("--check" in sys.argv and bool(old))


if __name__ == "__main__":
    sys.exit(main())
