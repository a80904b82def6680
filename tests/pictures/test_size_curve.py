"""The passing curve as numbers: it lies within its frame, falls where it should, and names what it marks."""

import pytest

from profiler.assess.flow.sizes import finer_um, passing_of
from profiler.pictures.basics.display import Area, Label, Line, Picture, Role
from profiler.pictures.charts.size_curve import SizeCurve, size_curve
from profiler.study import SizeClass

FEEDS = {
    "seven": ((250.0, 4.0), (180.0, 12.0), (125.0, 18.0), (90.0, 19.0), (63.0, 17.0), (45.0, 11.0), (9.0, 19.0)),
    "one": ((110.0, 100.0),),
    "wide": ((20000.0, 5.0), (900.0, 45.0), (2.0, 50.0)),
    "twenty": tuple((1000.0 * 0.8**n, 5.0) for n in range(20)),
}


def drawn(feed: str, liquid: float | None = 22.0, width: float = 236.0, height: float = 140.0) -> Picture:
    rows = tuple(SizeClass(*row) for row in FEEDS[feed])
    curve = SizeCurve(passing_of(rows), finer_um(rows, 0.5), finer_um(rows, 0.8), liquid)
    return size_curve(curve, width, height)


@pytest.mark.parametrize("feed", FEEDS)
@pytest.mark.parametrize("size", [(236.0, 140.0), (180.0, 100.0), (500.0, 300.0)])
def test_everything_lies_within_the_picture(feed: str, size: tuple[float, float]) -> None:
    picture = drawn(feed, width=size[0], height=size[1])
    for item in picture.items:
        points = item.points if isinstance(item, Line | Area) else [[item.x, item.y]]  # type: ignore[union-attr]
        for x, y in points:
            assert 0.0 <= x <= picture.width and 0.0 <= y <= picture.height


@pytest.mark.parametrize("feed", FEEDS)
def test_coarser_is_to_the_right_and_more_passes_there(feed: str) -> None:
    curve = next(i for i in drawn(feed).items if isinstance(i, Line) and i.role is Role.WALL)
    for (x0, y0), (x1, y1) in zip(curve.points, curve.points[1:], strict=False):
        assert x1 <= x0 and y1 >= y0


def test_what_counts_as_liquid_is_tinted_and_named_only_where_something_does() -> None:
    with_limit, without = drawn("seven"), drawn("seven", None)
    words = [[i.text for i in p.items if isinstance(i, Label)] for p in (with_limit, without)]
    assert "liquid" in words[0] and "liquid" not in words[1]
    assert any(isinstance(i, Area) for i in with_limit.items) and not any(isinstance(i, Area) for i in without.items)
    assert {"d50", "d80", "size, µm", "% passing"} <= set(words[1])


@pytest.mark.parametrize("feed", FEEDS)
def test_no_two_numbers_of_a_scale_meet(feed: str) -> None:
    numbers = [i for i in drawn(feed).items if isinstance(i, Label) and i.role is Role.FAINT]
    for n, one in enumerate(numbers):
        for other in numbers[n + 1 :]:
            assert abs(one.y - other.y) >= 9.0 or abs(one.x - other.x) >= 20.0
