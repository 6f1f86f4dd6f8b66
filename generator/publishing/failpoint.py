"""Named places at which a test lets the process die, as a power cut would, to see what is left behind."""

from __future__ import annotations

import os
from typing import Literal

VARIABLE = "INWARD_FAILPOINT"
EXIT_CODE = 70
Place = Literal["during-write", "before-swap", "during-swap", "after-swap"]


def reach(place: Place) -> None:
    """End the process at once, without any clean-up, where the environment names this place."""
    if os.environ.get(VARIABLE) == place:
        os._exit(EXIT_CODE)
