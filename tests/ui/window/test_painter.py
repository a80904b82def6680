"""How pictures become pixels: the quick ways must look like the plain ones."""

import numpy as np
import pytest
from PySide6.QtGui import QImage, QPainter

from profiler.pictures.basics.display import Area, Item, Line, Picture, Role, Strokes, boxed
from profiler.ui.widgets.painter import paint
from profiler.ui.widgets.theme import DARK, LIGHT

ROUND = np.array([[60 + 40 * np.cos(t), 50 + 30 * np.sin(t)] for t in np.linspace(0, 2 * np.pi, 50)])


def pixels(theme, *items: Item):
    """(height, width, 3) of a picture on the theme's paper."""
    image = QImage(120, 100, QImage.Format.Format_RGB32)
    with QPainter(image) as painter:
        painter.fillRect(image.rect(), theme.colour(Role.PAPER))
        paint(painter, Picture(120.0, 100.0, items), theme)
    return np.frombuffer(image.constBits(), np.uint8).reshape(100, 120, 4)[..., :3].astype(int)


@pytest.mark.parametrize("theme", [LIGHT, DARK])
@pytest.mark.parametrize("opacity", [0.3, 0.55, 0.8, 1.0])
@pytest.mark.parametrize("points", [ROUND, boxed(10, 10, 90, 70)])
def test_a_fill_on_bare_paper_looks_as_if_it_were_translucent(theme, opacity, points, qapp):
    plain = pixels(theme, Area(points, Role.BAND, opacity))
    bare = pixels(theme, Area(points, Role.BAND, opacity, bare=True))
    assert np.abs(plain - bare).max() <= 2  # of 255: how the colours are rounded
    assert (plain != pixels(theme)).any()


def test_level_and_upright_strokes_are_one_pixel_wide_and_leaning_ones_are_smooth(qapp):
    level = pixels(LIGHT, Strokes(np.array([[[10.0, 20.3], [80.0, 20.3]], [[30.4, 5.0], [30.4, 90.0]]]), Role.WALL))
    colours = {tuple(c) for c in level.reshape(-1, 3)}
    assert len(colours) == 2  # ink and paper, nothing between
    leaning = pixels(LIGHT, Strokes(np.array([[[10.0, 20.0], [80.0, 61.0]]]), Role.WALL))
    assert len({tuple(c) for c in leaning.reshape(-1, 3)}) > 4


def test_what_follows_strokes_is_drawn_smooth_again(qapp):
    upright = Strokes(np.array([[[5.0, 5.0], [5.0, 90.0]]]), Role.GRID)
    curve = Line(ROUND, Role.WALL, 2.0)
    alone = pixels(LIGHT, curve)
    assert (pixels(LIGHT, upright, curve)[:, 10:] == alone[:, 10:]).all()
