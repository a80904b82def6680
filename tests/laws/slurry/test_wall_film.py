"""Laws of the film on an exposed wall, and the same equations integrated by scipy's solve_ivp."""

from dataclasses import dataclass, fields, replace
from functools import partial
from itertools import pairwise

import msgspec
import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from profiler.assess import evaluate
from profiler.assess.catch.exposed_film import exposed_film
from profiler.assess.flow import flow_stage
from profiler.physics.slurry import wall_film
from profiler.physics.slurry.film import film_friction
from profiler.physics.slurry.repose import Slurry, repose, seek
from profiler.physics.slurry.wall_film import LANDING_LOSS, Path, Reposing, march
from profiler.study import Duty, GrooveRule, HolePlan, Knot, WallCurve
from profiler.study.files import examples
from profiler.units import DEGREE, GRAVITY, RPM

Array = NDArray[np.float64]
STEPS = 16  # of every land and every mouth
LAND, MOUTH, GROOVES = 0.010, 0.008, 9
SPEED, FLOW, FRACTION = 580.0 * RPM, 1.4e-3, 0.15
SLURRY = Slurry(2750.0, 110e-6, 998.2, 1.0e-3)


@dataclass(frozen=True)
class Wall:
    """A wall with grooves: where the film is asked, and the film at repose there."""

    path: Path
    film: Reposing


def wall(angle_deg: float | None, steps: int = STEPS) -> Wall:
    """A cone of this angle from a radius of 0.12 m; None: every land stands at repose."""
    pieces = [LAND, MOUTH] * GROOVES + [LAND]
    ends = np.concatenate(([0.0], np.cumsum(pieces)))
    along = np.concatenate([np.linspace(a, b, steps + 1) for a, b in pairwise(ends)])
    piece = np.repeat(np.arange(len(pieces)), steps + 1)
    radius = 0.12 + along * np.sin((14.0 if angle_deg is None else angle_deg) * DEGREE)
    found = repose(radius[None], SPEED, FLOW, FRACTION, SLURRY, 0.6)
    mass, volume = ((1.0 + c * (2750.0 / 998.2 - 1.0)) for c in (found.in_place_fraction, found.delivered_fraction))
    film = Reposing(
        angular_speed=np.array([[SPEED]]),
        rim_flow=found.velocity * found.depth,
        velocity=found.velocity,
        lag=found.lag,
        angle=found.angle,
        heaping=mass / volume,
        grain_size=np.array([[110e-6]]),
        reynolds=found.reynolds,
    )
    land = piece % 2 == 0
    wanted = found.angle if angle_deg is None else np.where(land, angle_deg * DEGREE, found.angle)
    falls = np.zeros((1, len(along)))
    if angle_deg is not None:  # the overfall of an exposed wall
        begins = np.flatnonzero(~land & (np.diff(piece, prepend=0) > 0))
        opens = np.tan(angle_deg * DEGREE) - np.tan(found.angle[:, begins])
        falls[:, begins] = MOUTH * np.cos(angle_deg * DEGREE) * opens
    return Wall(Path(np.diff(along), radius, wanted, falls, np.zeros((1, len(along)), dtype=bool)), film)


def test_a_wall_that_stands_at_repose_carries_the_film_at_repose_to_rounding() -> None:
    at = wall(None)
    found = march(at.path, at.film)
    assert found.velocity == pytest.approx(np.repeat(at.film.velocity[:, None], 3, axis=1), rel=1e-13)
    still = at.film.lag * SPEED * at.path.radius
    assert found.lag_speed == pytest.approx(np.repeat(still[:, None], 3, axis=1), rel=1e-13)


def test_a_bed_over_the_wall_carries_the_film_at_repose_and_what_leaves_it_starts_from_there() -> None:
    at = wall(20.0)
    covered = np.arange(at.path.at_repose.shape[1])[None] < 40
    found = march(replace(at.path, at_repose=covered), at.film).velocity[0, 1]
    assert found[:40] == pytest.approx(at.film.velocity[0, :40], rel=1e-13)
    assert np.all(found[40:51] > at.film.velocity[0, 40:51])


def test_a_duty_that_makes_no_sense_leaves_the_others_as_they_are() -> None:
    at = wall(20.0)
    alone = march(at.path, at.film)

    def three(values: Array) -> Array:
        return np.repeat(values, 3, axis=0)

    flow = three(at.film.rim_flow)
    flow[1, 200:] = np.nan
    film = Reposing(**{f.name: three(getattr(at.film, f.name)) for f in fields(Reposing)} | {"rim_flow": flow})
    path = replace(at.path, fall=three(at.path.fall), at_repose=three(at.path.at_repose))
    found = march(path, film)
    assert np.all(np.isnan(found.velocity[1]))
    for k in (0, 2):
        assert found.velocity[k] == pytest.approx(alone.velocity[0], rel=1e-9)
        assert found.lag_speed[k] == pytest.approx(alone.lag_speed[0], rel=1e-9)


@pytest.mark.parametrize("angle_deg", [11.0, 14.0, 20.0, 30.0])
def test_the_film_is_slower_the_more_a_landing_loses_and_never_far_below_repose(angle_deg: float) -> None:
    at = wall(angle_deg)
    assert np.all(at.film.angle < angle_deg * DEGREE)  # the wall is exposed
    velocity = march(at.path, at.film, (0.0, *LANDING_LOSS)).velocity[0]
    after = slice(2 * (STEPS + 1) + 1, None)  # behind the first fall
    assert np.all(np.diff(velocity[:, after], axis=0) < 0.0)
    assert np.all(velocity >= 0.98 * at.film.velocity)


@pytest.mark.parametrize("angle_deg", [14.0, 25.0])
@pytest.mark.parametrize("loss", LANDING_LOSS)
def test_sixteen_steps_a_land_agree_with_solve_ivp_to_one_in_ten_thousand(angle_deg: float, loss: float) -> None:
    at = wall(angle_deg)
    found = march(at.path, at.film, (loss,))
    expected = integrated(at, loss)
    assert found.velocity[0, 0] == pytest.approx(np.sqrt(expected[0]), rel=1e-4)
    assert found.lag_speed[0, 0] == pytest.approx(expected[1], rel=1e-4)


def test_halving_the_steps_quarters_the_error() -> None:
    ends = [march(w.path, w.film, (0.5,)).velocity[0, 0, -1] for w in (wall(20.0, steps=n) for n in (8, 16, 32, 64))]
    first, second = abs(ends[0] - ends[3]) / abs(ends[1] - ends[3]), abs(ends[1] - ends[3]) / abs(ends[2] - ends[3])
    assert 3.5 < first < 5.0 and 3.5 < second < 6.0


def test_on_a_long_land_the_film_settles_where_pull_and_drag_balance() -> None:
    at = wall(20.0, steps=64)
    long = replace(
        at.path,
        step=100.0 * at.path.step,
        fall=0.0 * at.path.fall,
        wall_angle=np.full_like(at.film.angle, 20.0 * DEGREE),
    )
    constant = {
        m: np.full_like(at.film.velocity, getattr(at.film, m)[0, -1])
        for m in ("rim_flow", "velocity", "lag", "angle", "heaping", "reynolds")
    }
    film = replace(at.film, **constant)
    far = replace(long, radius=np.full_like(long.radius, long.radius[-1]))
    found = march(far, film, (0.5,))
    v, w = float(found.velocity[0, 0, -1]), float(found.lag_speed[0, 0, -1])
    at_end = rates(film, far, -1)
    still = at_end(float(film.velocity[0, -1]) ** 2, float(film.lag[0, -1] * SPEED * far.radius[-1]), film.angle[0, -1])
    there = at_end(v * v, w, 20.0 * DEGREE)
    assert np.array(there) == pytest.approx(np.array(still), abs=1e-6)


def integrated(at: Wall, loss: float) -> Array:
    """(2, n) V^2 and W by Runge-Kutta, piece by piece, the coefficients straight between the places."""
    n, count = STEPS + 1, at.path.radius.size
    found = np.empty((2, count))
    y, w = at.film.velocity[0, 0] ** 2, at.film.lag[0, 0] * SPEED * at.path.radius[0]
    still_y, still_w = at.film.velocity[0] ** 2, at.film.lag[0] * SPEED * at.path.radius
    for first in range(0, count, n):
        here = slice(first, first + n)
        fall = at.path.fall[0, first]
        remaining = 1.0 - w / (SPEED * at.path.radius[first])
        y += 2.0 * SPEED**2 * at.path.radius[first] * remaining**2 * fall * (1.0 - loss)
        w += 2.0 * SPEED * remaining * fall
        s = np.concatenate(([0.0], np.cumsum(at.path.step[first : first + n - 1])))
        off = np.array([y - still_y[first], w - still_w[first]])

        def rate(x: float, off: Array, here: slice = here, s: Array = s) -> Array:
            def now(values: Array) -> float:
                return float(np.interp(x, s, values[here]))

            law = partial(_rates, now(at.film.rim_flow[0]), now(at.film.reynolds[0]), now(at.film.heaping[0]))
            radius, ry, rw = now(at.path.radius), now(still_y), now(still_w)
            there = law(radius, ry + off[0], rw + off[1], now(at.path.wall_angle[0]))
            return np.array(there) - np.array(law(radius, ry, rw, now(at.film.angle[0])))

        done = solve_ivp(rate, (0.0, s[-1]), off, t_eval=s, rtol=1e-9, atol=1e-12, max_step=s[1])
        found[0, here], found[1, here] = done.y[0] + still_y[here], done.y[1] + still_w[here]
        y, w = found[0, first + n - 1], found[1, first + n - 1]
    return found


def rates(film: Reposing, path: Path, i: int) -> partial[tuple[float, float]]:
    flow, reynolds, heaping = (float(a[0, i]) for a in (film.rim_flow, film.reynolds, film.heaping))
    return partial(_rates, flow, reynolds, heaping, float(path.radius[i]))


def _rates(
    flow: float, reynolds: float, heaping: float, radius: float, y: float, w: float, angle: float
) -> tuple[float, float]:
    """R_y and R_W of `wall_film`, written down anew."""
    depth, relative = flow / np.sqrt(y), np.hypot(np.sqrt(y), w)
    f = float(film_friction(np.array(depth), np.array(110e-6), np.array(reynolds)).factor)
    left = 1.0 - w / (SPEED * radius)
    field = SPEED**2 * radius * left**2
    along = 2.0 * field * heaping * np.sin(angle - np.arctan(GRAVITY / field)) - f * relative * y / (4.0 * flow)
    return along, 2.0 * SPEED * left * np.sin(angle) - f * relative * w / (8.0 * flow)


# an independent calculation, with the grains of the delivered fraction weighing (slip 1) and friction 0.45

GRADED = WallCurve((Knot(0.0, 26.0), Knot(120.0, 17.0), Knot(240.0, 8.0), Knot(330.0, 0.5)), lip_radius_mm=217.6)
CONE = WallCurve((Knot(0.0, 12.5), Knot(330.0, 12.5)), lip_radius_mm=217.6)
DELIVERED = Duty(
    "tried", speed_rpm=640.0, solids_pct=42.0, d50_um=110.0, dry_feed_t_h=3.0, water_l_min=40.0,
    solids_density_kg_m3=2750.0, friction_low=0.32, friction=0.45, friction_high=0.63,
)  # fmt: skip
GIVEN = {  # velocity over that at repose, at the lower edges of grooves 5 and 9, for losses of 1, 0.5, 0.2
    "graded": (GRADED, ((1.191, 1.253, 1.283), (1.111, 1.165, 1.191))),
    "cone": (CONE, ((1.102, 1.138, 1.158), (1.097, 1.143, 1.166))),
}


@pytest.mark.parametrize("name", GIVEN)
def test_two_bowls_give_what_an_independent_calculation_gave(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(flow_stage.repose, "seek", partial(seek, slip=1.0))
    study, (curve, expected) = examples.read("graded"), GIVEN[name]
    rule = GrooveRule(count=16, from_mm=8.0, to_mm=336.0, mouth_mm=13.0, depth_mm=12.0)
    design = msgspec.structs.replace(study.design, wall=curve, grooves=rule, holes=HolePlan())
    e = evaluate(design, study.machine, DELIVERED)
    assert e.shape is not None and e.flow is not None
    film = exposed_film(e.shape, e.flow)
    found = (film.velocity / film.repose_velocity[:, None])[0][:, [4, 8]].T
    assert found == pytest.approx(np.array(expected), rel=3e-3)
    assert film.speed[0, 1] == pytest.approx(np.hypot(film.velocity[0, 1], film.lag_speed[0, 1]), rel=1e-12)
    assert np.all(np.diff(film.residence[0]) < 0.0) and wall_film.LANDING_LOSS == (0.2, 0.5, 1.0)
