"""Where an outline crosses itself: grooves that meet inside the body, break through it, or a flange inside the lip."""

import re

from profiler.geometry.chain import Chain, sampled

Point = tuple[float, float]


def crossing(chain: Chain, sag: float) -> Point | None:
    """A point at which the closed chain, sampled to within `sag`, crosses or touches itself; None where it does not."""
    import shapely

    section = shapely.Polygon(sampled(chain, sag))
    if section.is_valid:
        return None
    place = re.search(r"\[(\S+) (\S+)\]", shapely.is_valid_reason(section))
    return (float(place[1]), float(place[2])) if place else (float(chain.points[0, 0]), float(chain.points[0, 1]))
