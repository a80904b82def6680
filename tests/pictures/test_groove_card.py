"""The groove card and the water holes as pictures, and the window of good values in the groove strip."""

from dataclasses import replace as with_members
from itertools import pairwise

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.quantities.groove_card import groove_card
from profiler.assess.quantities.table import quantity
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Area, Label, Line, Role
from profiler.pictures.strips.card_strip import card
from profiler.pictures.strips.groove_strip import groove_strip
from profiler.pictures.strips.hole_marks import hole_edges, hole_marks
from profiler.pictures.strips.scene import Scene
from profiler.study import HolePlan
from profiler.study.files import examples

WATERED = examples.read("watered")
E = evaluate(WATERED.design, WATERED.machine, WATERED.duty)
SCENE = Scene(E, E.design, HeightAxis(-20.0, 340.0, 12.0, 500.0), groove=4)


def words(items: tuple[object, ...]) -> list[str]:
    return [i.text for i in items if isinstance(i, Label)]


def whole(scene: Scene) -> list[str]:
    """Every line of a card, however far one must scroll."""
    tall = card(scene, 400.0, 500.0).tall
    return words(card(scene, 400.0, tall).picture.items)


def test_the_card_shows_every_figure_with_equation_numbers_and_source() -> None:
    rows = [row for section in groove_card(E, 4) for row in section.rows]
    assert len(rows) > 25
    plain = [r for r in rows if r.label not in ("State", "Run-up, no slurry", "Running", "End of cycle", "Water off")]
    assert all(r.equation and r.source for r in plain)
    assert sum(bool(r.inputs) for r in rows) >= 15


def test_the_card_prints_the_numbers_of_the_evaluation() -> None:
    shown = whole(SCENE)
    for key in ("groove_water_l_min", "jacket_kpa", "back_kpa", "discharge", "flush_ratio", "volume_l", "capacity_kg"):
        q = quantity(key)
        assert q.text(float(q.get(E)[3])) in shown, key
    ratio = quantity("velocity_ratio").get(E)[3]
    assert any(text.startswith(f"{ratio:.2f}  (") for text in shown)


def test_the_card_says_what_the_catch_rests_on_and_names_no_recovery() -> None:
    text = " ".join(whole(SCENE))
    assert "No recovery follows from them" in text and "Screening" in text
    assert "% recovery" not in text and "recovered" not in text


@pytest.mark.parametrize("width", [380.0, 400.0, 520.0])
def test_no_two_lines_of_the_card_meet_and_none_is_too_long(width: float) -> None:
    tall = card(SCENE, width, 500.0).tall
    labels = [i for i in card(SCENE, width, tall).picture.items if isinstance(i, Label)]
    left = sorted((i for i in labels if i.align == "left"), key=lambda i: i.y)
    assert all(b.y - a.y >= 12.0 for a, b in pairwise(left))
    assert max(len(i.text) * i.size * 96 / 72 * 0.56 for i in left) < width - 20.0


def test_a_card_taller_than_the_strip_scrolls_to_its_end() -> None:
    first, last = card(SCENE, 400.0, 400.0), card(SCENE, 400.0, 400.0, 1e9)
    assert first.tall > 800.0
    assert "Overturn" in words(first.picture.items) and "Overturn" not in words(last.picture.items)
    assert "Capacity, dry" in words(last.picture.items)
    assert any(isinstance(i, Area) and i.role is Role.BAR for i in first.picture.items)


def test_without_a_plan_the_card_says_that_water_is_spread_evenly() -> None:
    e = evaluate(replace(WATERED.design, holes=HolePlan()), WATERED.machine, WATERED.duty)
    text = " ".join(whole(with_members(SCENE, shown=e)))
    assert "spread evenly" in text and "Jacket pressure" not in text


def test_without_a_chosen_groove_there_is_no_card() -> None:
    assert words(card(with_members(SCENE, groove=None), 400.0, 300.0).picture.items) == ["choose a groove"]
    assert groove_card(E, 99) == ()


def test_holes_run_from_the_jacket_to_the_groove_floor() -> None:
    assert E.shape is not None and E.shape.holes is not None
    edges = hole_edges(E.shape)
    assert edges.shape == (24, 2, 2)
    radius = edges[:12, :, 0]
    outer = E.shape.shell.outer.radius_at(E.shape.holes.rings.height * 1e3)
    assert radius[:, 1] == pytest.approx(outer) and np.all(radius[:, 0] < radius[:, 1])
    assert edges[12:, :, 1] - edges[:12, :, 1] == pytest.approx(np.full((12, 2), 0.8), abs=0.15)  # a drill each
    assert len([m for m in hole_marks(edges) if isinstance(m, Line)]) == 12
    assert hole_marks(hole_edges(evaluate(replace(E.design, holes=HolePlan()), E.machine, E.duty).shape)) == []


def test_the_window_of_good_values_lies_behind_the_bars() -> None:
    items = groove_strip(SCENE, quantity("velocity_ratio"), 224.0, 520.0).items
    window = [i for i in items if isinstance(i, Area) and i.role is Role.BAND]
    assert len(window) == 1
    bars = [i for i in items if isinstance(i, Area) and i.role is Role.BAR]
    left, right = window[0].points[:, 0].min(), window[0].points[:, 0].max()
    assert all(left < bar.points[:, 0].max() <= right + 1e-9 for bar in bars)  # all ratios here are good
    plain = groove_strip(SCENE, quantity("groove_height_mm"), 224.0, 520.0).items
    assert not [i for i in plain if isinstance(i, Area) and i.role is Role.BAND]
