"""The clinician's passphrase on this computer: kept as a salted, memory-hard hash, never as it is typed.

It keeps a patient from changing by mistake what was prescribed. It seals nothing: whoever may write to this person's
folders can take it away, which is also what helps where it was forgotten.
"""

from __future__ import annotations

import hashlib
import hmac
import json
import os
import unicodedata
from pathlib import Path

from weightshare.errors import RecordError
from weightshare.records.place import passphrase_file
from weightshare.records.whole import FOLDER_MODE, write_whole

SCHEMA = "weightshare.passphrase/1"
WORK, BLOCK, LANES = 1 << 17, 8, 1
"""scrypt's N, r and p (RFC 7914): 128 r N bytes of memory, 128 MiB."""
MOST_WORK = 1 << 20
"""A file that asks for more was altered: it would take all of this computer's memory."""
SHORTEST, LONGEST = 8, 200
"""Characters; the shortest is that of NIST SP 800-63B, 5.1.1.1, from memory."""
TOO_SHORT = f"Give at least {SHORTEST} characters; several words are easily remembered."
_SALT_BYTES, _KEY_BYTES = 16, 32


def has_passphrase(path: Path | None = None) -> bool:
    """Return whether one was set, whatever became of its file."""
    return (path or passphrase_file()).exists()


def set_passphrase(words: str, path: Path | None = None, *, work: int = WORK) -> None:
    """Keep `words` as the passphrase in place of another; `work` is scrypt's N.

    Raises RecordError where they are too short or too long, or the file cannot be written.
    """
    path = path or passphrase_file()
    if not SHORTEST <= len(words) <= LONGEST:
        raise RecordError(TOO_SHORT if len(words) < SHORTEST else f"Give at most {LONGEST} characters.")
    salt = os.urandom(_SALT_BYTES)
    cost = work, BLOCK, LANES
    value = {"schema": SCHEMA, "n": work, "r": BLOCK, "p": LANES, "salt": salt.hex()}
    value["hash"] = _derive(words, salt, *cost).hex()
    try:
        path.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
        write_whole(path, json.dumps(value, indent=1).encode() + b"\n")
    except OSError as error:
        raise RecordError(f"{path}: cannot be written ({error.strerror or error})") from error


def is_passphrase(words: str, path: Path | None = None) -> bool:
    """Return whether `words` are the passphrase. Raises RecordError, which names the file, where it cannot be read."""
    path = path or passphrase_file()
    try:
        value = json.loads(path.read_bytes())
        if value["schema"] != SCHEMA:
            raise ValueError("another schema")
        cost = int(value["n"]), int(value["r"]), int(value["p"])
        if not (1 < cost[0] <= MOST_WORK and (cost[1], cost[2]) == (BLOCK, LANES)):
            raise ValueError("another cost")
        made = _derive(words, bytes.fromhex(value["salt"]), *cost)
        return hmac.compare_digest(made, bytes.fromhex(value["hash"]))
    except (OSError, ValueError, KeyError, TypeError, RecursionError) as error:
        raise RecordError(f"{path}: the passphrase kept there cannot be read. {forgotten_words(path)}") from error


def forgotten_words(path: Path | None = None) -> str:
    """Return what to do where the passphrase was forgotten, in words."""
    return (
        f"Forgotten? Whoever looks after this computer deletes the file {path or passphrase_file()}; "
        "then a new one can be set. What is kept of patients stays as it is."
    )


def _derive(words: str, salt: bytes, n: int, r: int, p: int) -> bytes:
    # one letter may be typed in two ways (a with two dots as one sign or as two): both are the same here
    typed = unicodedata.normalize("NFC", words).encode()
    return hashlib.scrypt(typed, salt=salt, n=n, r=r, p=p, maxmem=256 * r * n, dklen=_KEY_BYTES)
