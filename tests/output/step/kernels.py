"""Two modelling kernels from the registry that read our STEP files: OCC by its wrapper OCP, and arris, in Rust.

They are in the extra `kernel` and are installed when a long test first asks for them; nothing else needs them. The
two share no code. arris takes minutes over a surface of revolution whose generator is a spline, so it gets no such.
"""

import importlib
import importlib.util
import subprocess
import sys
import tomllib
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]
KINDS = {"Plane": "PLANE", "Cylinder": "CYLINDRICAL_SURFACE", "Cone": "CONICAL_SURFACE", "Torus": "TOROIDAL_SURFACE",
         "SurfaceOfRevolution": "SURFACE_OF_REVOLUTION"}  # fmt: skip
QUADRATURE = 1e-6  # of each face; its usual rule misses what holes take from a face by half a per cent


@dataclass(frozen=True)
class Seen:
    """What a kernel makes of a file."""

    solids: int
    valid: bool
    faces: int
    kinds: Counter
    volume: float


def install():
    """Have both kernels at hand; without them and without a registry the test is skipped, and says so."""
    if all(importlib.util.find_spec(name) for name in ("OCP", "arris")):
        return
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    pip = [
        sys.executable,
        "-m",
        "pip",
        "install",
        "--disable-pip-version-check",
        "-q",
        "-c",
        "packaging/constraints.txt",
    ]
    wanted = project["optional-dependencies"]["kernel"]
    done = subprocess.run([*pip, *wanted], cwd=ROOT, capture_output=True, text=True, check=False)
    importlib.invalidate_caches()
    if done.returncode:
        pytest.skip(f"the kernels {', '.join(wanted)} could not be installed: {done.stderr.strip()[-200:]}")


def occ(path):
    """Raises AssertionError where the file is not read without a word of complaint."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepCheck import BRepCheck_Analyzer
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.STEPControl import STEPControl_Reader
    from OCP.TopAbs import TopAbs_FACE, TopAbs_SHELL, TopAbs_SOLID
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    def parts(kind):
        found = TopExp_Explorer(shape, kind)
        while found.More():
            yield found.Current()
            found.Next()

    reader = STEPControl_Reader()
    assert reader.ReadFile(str(path)) == IFSelect_RetDone
    reader.TransferRoots()
    shape = reader.OneShape()
    faces = list(parts(TopAbs_FACE))
    kinds = Counter(str(BRepAdaptor_Surface(TopoDS.Face(face)).GetType()).rpartition("_")[2] for face in faces)
    sums = GProp_GProps()
    BRepGProp.VolumePropertiesGK_s(shape, sums, QUADRATURE, False, True)
    valid = BRepCheck_Analyzer(shape).IsValid() and all(shell.Closed() for shell in parts(TopAbs_SHELL))
    solids = len(list(parts(TopAbs_SOLID)))
    return Seen(solids, valid, len(faces), Counter({KINDS[k]: n for k, n in kinds.items()}), sums.Mass())


def arris(path):
    from arris import Model

    model = Model()
    solids = model.read_step(path.read_text("ascii")).solids
    (found,) = solids
    assert found.refusal is None, found.refusal.message
    assert not found.healing.grown and not found.healing.turned
    report = model.check(found.body)
    kinds = Counter({"all": len(model.faces(found.body))})
    return Seen(len(solids), report.ok, kinds["all"], kinds, model.mass_properties(found.body).volume)
