"""How long work says how far it has come, and learns that nobody waits for it any more."""

from collections.abc import Callable
from dataclasses import dataclass


class Cancelled(Exception):
    """Nobody waits for this work any more."""


@dataclass(frozen=True, slots=True)
class Progress:
    """`at` is called with the share done, 0 to 1, at every point where the work may pause or be cancelled."""

    at: Callable[[float], None]


def _nobody(share: float) -> None:
    return None


SILENT = Progress(_nobody)
