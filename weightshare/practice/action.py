"""What the owner of a session has to do after a key."""

from __future__ import annotations

from enum import StrEnum


class Action(StrEnum):
    """What the owner of the engine has to do after a key."""

    NOTHING = "nothing"
    COMPARE = "compare the plates"
    BEGIN = "begin practice"
    BEGIN_SET = "begin the next set"
    END_SET = "end the set"
    FAULT = "mark a fault"
    FINISH = "finish the session"
    AGAIN = "start over"
    """A new session on the same source: a new zero, a new weighing."""
    CLOSE = "close the window"
