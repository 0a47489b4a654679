"""A disk on which there is no room, made by the kernel itself: it takes a part of what is written, and then nothing.

`scarce` limits how long a file of this process may become (RLIMIT_FSIZE): the first write that reaches the limit is cut
short without a word, the next one fails, as on a disk that is full. `tiny_disk` is a file system of its own, which only
the superuser may make.
"""

from __future__ import annotations

import contextlib
import subprocess
from collections.abc import Iterator
from pathlib import Path

FULL = "File too large"
"""What the system says beyond the limit; of a disk that is full it says "No space left on device"."""


@contextlib.contextmanager
def scarce(most_bytes: int) -> Iterator[None]:
    """Let no file become longer than `most_bytes`."""
    import resource

    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


@contextlib.contextmanager
def tiny_disk(place: Path, kilobytes: int) -> Iterator[bool]:
    """Mount a file system of `kilobytes` at the folder `place`; hand out False where this user, or machine, may not."""
    place.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", f"size={kilobytes}k", "none", str(place)]
    try:
        mounted = subprocess.run(command, capture_output=True, check=False).returncode == 0
    except OSError:
        mounted = False
    try:
        yield mounted
    finally:
        if mounted:
            subprocess.run(["umount", str(place)], check=True)
