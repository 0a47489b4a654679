"""Whose sessions are practised now: a patient of the store, and the folder that their sessions are recorded in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.practice.option import PractiseOptions

if TYPE_CHECKING:
    from weightshare.records.assessment import Elsewhere


@dataclass(frozen=True, slots=True)
class Charge:
    """A patient's code, and the inbox of their sessions; both empty: the sessions are nobody's of the store."""

    code: str = ""
    inbox: str = ""
    elsewhere: Elsewhere | None = None
    """The days on which the patient's stage was met before."""

    def keep(self, options: PractiseOptions) -> PractiseOptions:
        """Return `options` with the session kept where it belongs."""
        if not self.inbox:
            return options
        return replace(options, save=Path(self.inbox), record=True, elsewhere=self.elsewhere)

    @property
    def is_gone(self) -> bool:
        """Whether there is no such folder any more: the patient was deleted, or the store was moved."""
        return bool(self.inbox) and not Path(self.inbox).is_dir()
