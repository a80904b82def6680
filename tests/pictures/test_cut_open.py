"""The body cut open: its cut faces are the section foreshortened by the tilt, and everything lies in the picture."""

from math import cos

import numpy as np
import pytest
import shapely

from profiler.assess import evaluate
from profiler.geometry.chain import figures
from profiler.pictures.basics.display import Area, Role
from profiler.pictures.charts.cut_open import PAD, TILT, cut_open
from profiler.study.files import examples


@pytest.fixture(scope="module", params=["graded", "cone", "upright"])
def outline(request):
    study = examples.read(request.param)
    return evaluate(study.design, study.machine, study.duty).shape.outline


def test_the_cut_faces_have_the_area_of_the_section_times_the_cosine_of_the_tilt(outline):
    picture = cut_open(outline, 640.0, 480.0)
    faces = [shapely.Polygon(i.points) for i in picture.items if isinstance(i, Area) and i.role is Role.BODY]
    assert len(faces) == 2
    reach = max(face.bounds[2] for face in faces) - min(face.bounds[0] for face in faces)
    scale = reach / (2.0 * float(outline.points[:, 0].max()))
    for face in faces:
        assert face.area == pytest.approx(figures(outline).area * scale**2 * cos(TILT), rel=0.01)


def test_everything_lies_inside_and_what_looks_away_is_left_out(outline):
    picture = cut_open(outline, 640.0, 480.0)
    points = np.concatenate([i.points for i in picture.items])
    assert points.min() >= PAD - 1.0 and points[:, 0].max() <= 640.0 - PAD + 1.0 and points[:, 1].max() <= 480.0
    drawn = sum(isinstance(i, Area) and i.role is Role.PAPER for i in picture.items)
    assert 0 < drawn < 12_000
