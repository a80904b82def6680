"""Cyclic garbage is looked for in the window's own thread only.

Python looks for it in whichever thread happens to allocate. A closed dialog or page is such a cycle; were the worker to
find it, its Qt half would be destroyed outside the window's thread while the window runs, which ends the program.
(Seen: "Segmentation fault" in the event loop while an ore map was computed; the worker had just collected 9,400
objects of earlier windows.) So the automatic search is off while a worker lives, and the window's thread does it.
While something is dragged nobody searches: a search takes as long as a frame.
"""

import gc

YOUNG = 20_000  # container objects made since the last search, at which another is due
_held = 0


def hold() -> None:
    """Stop the automatic search. Each call wants one `release`; both in the window's thread."""
    global _held
    _held += 1
    gc.disable()


def release() -> None:
    """Automatic again, once nobody holds it any more."""
    global _held
    _held -= 1
    if _held == 0:
        gc.enable()


def collect_if_due() -> None:
    """In the window's thread: search among the younger objects, if many were made."""
    if _held and gc.get_count()[0] > YOUNG:
        gc.collect(1)
