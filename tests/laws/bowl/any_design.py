"""Any design a person might draw, sane or not, as a hypothesis strategy: walls with corners, grooves, bodies."""

from hypothesis import strategies as st

from profiler.study import Body, Design, GrooveRule, Knot, Placing, SquareTo, WallCurve
from profiler.study.records.holes import HolePlan

SPANS_DEG = ((0, 30), (-20, 50), (-59, 84), (5, 20))


def numbers(low, high, decimals=2):
    step = 10**-decimals
    return st.integers(round(low / step), round(high / step)).map(lambda n: round(n * step, decimals))


@st.composite
def walls(draw):
    height = draw(numbers(30, 1000, 1))
    inner = draw(st.lists(numbers(0.5, height - 0.5, 1), max_size=4, unique=True))
    low, high = draw(st.sampled_from(SPANS_DEG))
    angle = numbers(low, high)
    corner, eased = st.none() | angle, st.integers(0, 4).map(lambda n: n == 4)
    knots = (
        Knot(0.0, draw(angle), eased=draw(eased)),
        *(Knot(z, draw(angle), draw(corner), eased=draw(eased)) for z in sorted(inner)),
        Knot(height, draw(angle)),
    )
    radius = draw(numbers(0.5 * height + 20, 2.0 * height + 20, 1))
    hold_lip = draw(st.booleans())
    return WallCurve(knots, lip_radius_mm=radius if hold_lip else None, floor_radius_mm=None if hold_lip else radius)


@st.composite
def rules(draw, height):
    mouth = draw(numbers(0.5 + 0.01 * height, 0.5 + 0.08 * height))
    rounding = st.just(0.0) | numbers(0.0, 0.35 * mouth)
    return GrooveRule(
        placing=draw(st.sampled_from(Placing)),
        count=draw(st.integers(0, 20)),
        from_mm=draw(numbers(0.0, 0.2 * height, 1)),
        to_mm=draw(numbers(0.6 * height, 1.05 * height, 1)),
        heights_mm=tuple(draw(st.lists(numbers(0.05 * height, 0.95 * height, 1), max_size=6))),
        mouth_mm=mouth,
        depth_mm=draw(numbers(max(0.5, 0.3 * mouth), 2.0 * mouth)),
        flank_deg=draw(numbers(0, 20, 1)),
        floor_radius_mm=draw(rounding),
        edge_radius_mm=draw(rounding),
        square_to=draw(st.sampled_from(SquareTo)),
    )


@st.composite
def bodies(draw, height):
    return Body(
        wall_mm=draw(numbers(3, 0.15 * height + 5, 1)),
        floor_plate_mm=draw(numbers(1, 0.1 * height + 2, 1)),
        hub_hole_mm=draw(numbers(2, 0.3 * height + 5, 1)),
        flange_width_mm=draw(st.just(0.0) | numbers(0, 0.1 * height, 1)),
        flange_mm=draw(numbers(1, 0.1 * height + 2, 1)),
    )


@st.composite
def designs(draw):
    wall = draw(walls())
    return Design("any", wall, draw(rules(wall.height_mm)), draw(bodies(wall.height_mm)))


def plans():
    """Any plan of water holes, and none."""
    return st.builds(
        HolePlan, count=st.integers(0, 120), diameter_mm=numbers(0.3, 4.0), skew_deg=numbers(-60, 60, 1),
        start_deg=numbers(0, 90, 1), phase_deg=numbers(0, 20, 1),
    )  # fmt: skip
