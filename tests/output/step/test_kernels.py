"""Independent modelling kernels read every example and thirty random designs as one valid closed solid each."""

from dataclasses import replace as with_
from functools import cache

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.shape.bore_rings import Ring
from profiler.geometry.chain import figures
from profiler.output.drawings.parts import Part, part_chain
from profiler.output.solids.solid_output import CROSSED
from profiler.output.step.profile import pieces_of
from profiler.output.step.solid import Label, file_text, solid_of
from profiler.output.step.write import StepOptions, write_step
from profiler.study import HoleChange, HolePlan
from profiler.study.files import examples
from tests.laws.bowl.any_design import designs
from tests.output.step.kernels import arris, install, occ
from tests.output.step.part21_reader import File
from tests.output.step.test_bores import ONE, TUBE, holes_volume
from tests.published.drawings.test_drawing_values import GROOVED, chain, polygon, ring

pytestmark = pytest.mark.long
WITHOUT_HOLES, WITH_HOLES = 1e-6, 1e-5  # of the volume

TAPERED = chain((40, 0, 0), (52, 0, 0), (54, 30, 0), (52, 60, 0), (40, 60, 0))
BANDS = [with_(ONE, groove=k + 1, count=36, height=10.0 + 12.0 * k, diameter=5.0, skew=0.19 * k) for k in range(4)]
HALVES = [with_(ONE, groove=1, count=28, height=15.0, diameter=5.0),
          with_(ONE, groove=2, count=28, height=45.0, diameter=5.0, skew=0.457)]  # fmt: skip


def leaning(bulge):
    section = chain((60, 0, 0), (95, 80, 0), (70, 80, bulge), (40, 0, 0))
    middle = float(pieces_of(section)[2].radius_at(np.array(40.0)))
    return section, [Ring(1, 5, 3.0, 40.0, middle, 0.5, 77.5, True)]


SOLIDS = {
    "reference ring": (chain(*GROOVED), []),
    "torus": (ring(100.0, 10.0), []),
    "discs": (polygon((0, 0), (100, 0), (130, 200), (0, 200)), []),
    "tip above": (polygon((0, 150), (80, 150), (0, 300)), []),
    "tip below": (polygon((0, 0), (80, 150), (0, 150)), []),
    "tube with holes": (TUBE, [ONE]),
    "parted face": (TUBE, BANDS),
    "two seams": (TAPERED, HALVES),
    "holes in cones": leaning(0.0),
    "holes in a torus": leaning(0.1),
    "holes beside the solid": (TUBE, [with_(ONE, height=1.5), with_(ONE, groove=2)]),
}
REVOLVED = {
    "holes in a revolved face": leaning(-0.1),
    "most of a circle": (chain((10.0, -40.0, np.tan(0.35 * np.pi)), (10.0, 40.0, 0.0)), []),
    "a flat arc": (chain((150, 0, 0), (300, 0, 0), (300, 80, 0), (150, 80, -1e-6)), []),
}


@pytest.fixture(autouse=True, scope="module")
def kernels():
    install()


@cache
def evaluation(name):
    study = examples.read(name)
    return evaluate(study.design, study.machine, study.duty)


def wanted_volume(section, made):
    return figures(section).volume - holes_volume(made, section)


def assert_one_solid(seen, made, path, volume, share):
    file = File(path.read_text("ascii"))
    faces = [file[face.values[2]].keyword for face in file.all("ADVANCED_FACE")]
    assert (seen.solids, seen.valid, seen.faces) == (1, True, len(faces)) and len(faces) == made.faces
    assert all(seen.kinds[kind] in (0, faces.count(kind)) for kind in faces)
    assert seen.volume == pytest.approx(volume, rel=share)


def in_silence(capfd):
    """OCC says on standard output what it does not like."""
    return not any("ERR" in text or "WARN" in text.upper() for text in capfd.readouterr())


def made_of(section, rings, path):
    made = solid_of(section, (), rings)
    path.write_text(file_text(made, Label("any", "any")), "ascii")
    return made


@pytest.mark.parametrize("name", [*SOLIDS, *REVOLVED])
def test_occ_reads_solids_of_every_kind(name, tmp_path, capfd):
    section, rings = (SOLIDS | REVOLVED)[name]
    path = tmp_path / "any.step"
    made = made_of(section, rings, path)
    assert_one_solid(occ(path), made, path, wanted_volume(section, made), WITH_HOLES if rings else WITHOUT_HOLES)
    assert in_silence(capfd)


@pytest.mark.parametrize("name", SOLIDS)
def test_another_kernel_reads_them_too(name, tmp_path):
    section, rings = SOLIDS[name]
    path = tmp_path / "any.step"
    made = made_of(section, rings, path)
    assert_one_solid(arris(path), made, path, wanted_volume(section, made), WITH_HOLES if rings else WITHOUT_HOLES)


@pytest.mark.parametrize("part", [Part.LINER, Part.FORMER, Part.SEAT])
@pytest.mark.parametrize("name", examples.names())
def test_occ_reads_every_part_of_every_example(name, part, tmp_path, capfd):
    e, path = evaluation(name), tmp_path / "any.step"
    made = write_step(path, e, StepOptions(part))
    section = part_chain(part, e.shape, e.machine)
    share = WITH_HOLES if made.bored else WITHOUT_HOLES
    assert_one_solid(occ(path), made, path, wanted_volume(section, made), share)
    assert in_silence(capfd)


@pytest.mark.parametrize("name", ["cone", "upright"])
def test_another_kernel_reads_examples_without_revolved_faces(name, tmp_path):
    e, path = evaluation(name), tmp_path / "any.step"
    made = write_step(path, e)
    assert_one_solid(arris(path), made, path, wanted_volume(e.shape.outline, made), WITHOUT_HOLES)


@st.composite
def plans(draw):
    counts, diameters, skews = (
        st.integers(0, 20),
        st.sampled_from([0.5, 1.0, 2.0, 5.0]),
        st.sampled_from([0.0, 20.0, 60.0]),
    )
    places = sorted(draw(st.lists(st.integers(1, 8), max_size=4, unique=True)))
    changes = [HoleChange(place, draw(st.none() | counts), draw(st.none() | diameters), draw(st.none() | skews))
               for place in places]  # fmt: skip
    return HolePlan(draw(counts), draw(diameters), draw(skews), tuple(c for c in changes if not c.is_nothing))


@settings(max_examples=30, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck),
          phases=[Phase.generate])  # fmt: skip
@given(designs(), plans())
def test_occ_reads_thirty_random_designs(tmp_path, capfd, design, plan):
    study = examples.read("graded")
    e = evaluate(replace(design, holes=plan), study.machine, study.duty, want=Stages.FINDINGS | Stages.CLASH)
    assume(e.shape is not None and not any(f.kind in CROSSED for f in e.findings))
    path = tmp_path / "any.step"
    made = write_step(path, e)
    share = WITH_HOLES if made.bored else WITHOUT_HOLES
    assert_one_solid(occ(path), made, path, wanted_volume(e.shape.outline, made), share)
    assert in_silence(capfd)
