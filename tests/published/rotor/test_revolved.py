"""Volume, centre and polar inertia of turned bodies against trimesh's mass properties of their meshes.

trimesh (an independent mesh library) integrates over the mesh it is given; the mesh turns the sampled outline in N
steps about the axis, so it is a stack of regular N-gons. For those the loss is known in closed form: area and volume
take (N/2 pi) sin(2 pi/N) of the circle's, polar inertia that times (2 + cos(2 pi/N))/3. What is left is the sampling
of the arcs within a sag of 1e-4 mm, along less than 1600 mm of outline: 0.11 mm2 of more than 8800 mm2, 1.2e-5.
"""

import numpy as np
import pytest
import trimesh

from profiler.assess import evaluate
from profiler.assess.shape.shape_stage import shape_of
from profiler.geometry.chain import Chain, figures, sampled
from profiler.study.files import examples
from tests.tiers import kept

STEPS = 72
SAG_MM = 1e-4
SAMPLED = 1.2e-5


def turned(chain):
    """The body's mesh; lengths as in the chain."""
    outline = sampled(chain, SAG_MM)
    closed = np.vstack((outline, outline[:1]))
    mesh = trimesh.creation.revolve(closed, sections=STEPS)
    assert mesh.is_watertight
    return mesh


def of_polygons(steps=STEPS):
    """Shares of volume and of polar inertia that a stack of regular polygons has of the turned body's."""
    step = 2.0 * np.pi / steps
    volume = np.sin(step) / step
    return volume, volume * (2.0 + np.cos(step)) / 3.0


def test_the_polygons_shares_are_right():
    """A cylinder has nothing to sample: the two closed forms must account for all of the difference."""
    tube = Chain(np.array([(100.0, 0.0), (120.0, 0.0), (120.0, 200.0), (100.0, 200.0)]), np.zeros(4))
    mesh, exact = turned(tube), figures(tube)
    volume, inertia = of_polygons()
    assert mesh.volume == pytest.approx(exact.volume * volume, rel=1e-9)
    assert mesh.moment_inertia[2, 2] == pytest.approx(exact.polar_inertia * inertia, rel=1e-9)
    assert volume < 1.0 - 1e-3  # so that a mesh taken for the body itself would fail


@pytest.mark.parametrize("name", kept(examples.names(), ["graded", "watered"]))
def test_the_bodies_of_the_examples_agree_with_their_meshes(name):
    study = examples.read(name)
    shape, _ = shape_of(study.design, study.machine)
    mesh, exact = turned(shape.outline), shape.figures
    volume, inertia = of_polygons()
    assert mesh.volume == pytest.approx(exact.volume * volume, rel=SAMPLED)
    assert mesh.center_mass[2] == pytest.approx(exact.centre_height, rel=SAMPLED)
    assert mesh.moment_inertia[2, 2] == pytest.approx(exact.polar_inertia * inertia, rel=2.0 * SAMPLED)


def test_mass_and_inertia_of_an_evaluation_are_those_of_the_mesh_in_kilograms_and_metres():
    study = examples.read("graded")
    body = evaluate(study.design, study.machine, study.duty).body
    shape, _ = shape_of(study.design, study.machine)
    mesh = turned(shape.outline)
    mesh.apply_scale(1e-3)
    mesh.density = study.design.body.density_kg_m3
    volume, inertia = of_polygons()
    assert body.mass_kg == pytest.approx(mesh.mass / volume, rel=SAMPLED)
    assert body.inertia_kg_m2 == pytest.approx(mesh.moment_inertia[2, 2] / inertia, rel=2.0 * SAMPLED)
