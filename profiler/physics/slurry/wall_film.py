"""The film on a wall that opens more than repose: faster and thinner than the film at repose, and never settled.

From land to land it is marched as a deviation from the film at repose, so that a wall at repose gives that film
exactly. With V along the wall, W = L w r the lag's speed, y = V^2, V_rel^2 = y + W^2 and q the flow per length of rim,

    R_y = 2 a' K sin(alpha) - f V_rel y/(4 q)             d(y - y_r)/ds = R_y - R_y,r
    R_W = 2 w (1 - L) sin(theta) - f V_rel W/(8 q)        d(W - W_r)/ds = R_W - R_W,r

r marks the film at repose of that place. On a land theta is the wall's angle, over a mouth that of repose; alpha =
theta - atan(g/a'), a' = w^2 r (1 - L)^2. Where the stream falls by s it is quicker by

    y += 2 a' s (1 - lambda),      W += 2 w (1 - L) s       (it keeps its angular momentum)

credited at the edge it leaves: over the mouth it then settles towards repose as it would on a land.
lambda, the share of the fall that is lost, has no published value: it is a band. Where a bed lies over the wall the
film is the film at repose. Derived; friction f is that of a film over grains, which on a bare wall is an assumption.
"""

from dataclasses import dataclass

import numpy as np

from profiler.physics.rotor.rotation import FloatArray
from profiler.physics.slurry.carpet import BoolArray
from profiler.physics.slurry.film import film_friction
from profiler.units import GRAVITY

LANDING_LOSS = (0.2, 0.5, 1.0)  # share of the fall lost in landing: low, middle, high; assumed
PASSES = 40
CLOSE = 1e-5  # relative, of the last Newton step; what is left is about its square


@dataclass(frozen=True, slots=True)
class Path:
    """Where the film runs, from the floor up: n places, two at one spot where something changes there. SI.

    The arrays broadcast to (d, n) and are those of the place, not of the step to it.
    """

    step: FloatArray  # (n - 1,) m along the wall from each place to the next; 0 between two at one spot
    radius: FloatArray
    wall_angle: FloatArray  # rad; over a mouth the angle of repose
    fall: FloatArray  # (d, n) m the stream falls from the place before this one; 0 elsewhere
    at_repose: BoolArray  # (d, n) a bed lies over the wall here, or the film still comes up to speed


@dataclass(frozen=True, slots=True)
class Reposing:
    """The film at repose at every place, (d, n), and what the film is made of. SI."""

    angular_speed: FloatArray  # (d, 1)
    rim_flow: FloatArray  # q
    velocity: FloatArray  # V along the wall
    lag: FloatArray  # L
    angle: FloatArray  # theta
    heaping: FloatArray  # K, mass in place over mass delivered
    grain_size: FloatArray
    reynolds: FloatArray  # 4 q/nu


@dataclass(frozen=True, slots=True)
class WallFilm:
    """(d, 3, n): the landing loses little, half, all. nan where the march did not settle."""

    velocity: FloatArray  # m/s along the wall
    lag_speed: FloatArray  # m/s, W
    depth: FloatArray  # m

    @property
    def relative(self) -> FloatArray:
        """m/s against the wall, both ways together."""
        return np.hypot(self.velocity, self.lag_speed)


def march(path: Path, repose: Reposing, losses: tuple[float, ...] = LANDING_LOSS) -> WallFilm:
    """The film along the whole path for each share of the fall lost, by one Newton search over all places.

    The trapezoidal rule joins the places; places depend on those below, duties and losses not on one another.
    """
    loss = np.array(losses)[None, :, None]
    shape = np.broadcast_shapes(repose.velocity.shape, path.at_repose.shape)
    case = _Case(path, repose, loss, (shape[0], len(losses), shape[1]))
    y = np.broadcast_to(case.still_y, case.shape).copy()
    w = np.broadcast_to(case.still_w, case.shape).copy()
    settled = np.zeros(case.shape[:2], dtype=bool)
    with np.errstate(all="ignore"):
        for _ in range(PASSES):
            y_step, w_step = case.newton(y, w)
            hold = np.minimum(1.0, 0.5 * y / np.maximum(-y_step, 1e-300))
            y, w = y + np.where(y_step < 0.0, hold, 1.0) * y_step, w + w_step
            moved = np.maximum(np.abs(y_step) / y, np.abs(w_step) / np.sqrt(y + w * w)).max(axis=-1)
            settled = moved < CLOSE
            if not (moved >= CLOSE).any():  # what makes no sense never will
                break
    velocity = np.where(settled[..., None], np.sqrt(y), np.nan)
    return WallFilm(velocity, np.where(settled[..., None], w, np.nan), repose.rim_flow[:, None] / velocity)


@dataclass(frozen=True, slots=True)
class _Rates:
    """R_y and R_W and how they change with y and W."""

    along: FloatArray
    along_by_y: FloatArray
    along_by_w: FloatArray
    round: FloatArray
    round_by_y: FloatArray
    round_by_w: FloatArray


@dataclass(frozen=True, slots=True)
class _Lean:
    """An angle that stays while the film is sought."""

    sine: FloatArray
    cosine: FloatArray

    @classmethod
    def of(cls, angle: FloatArray) -> "_Lean":
        return cls(np.sin(angle), np.cos(angle))


class _Case:
    """The equations of all places, with their derivatives: two for each place, bound to the place before it."""

    def __init__(self, path: Path, repose: Reposing, loss: FloatArray, shape: tuple[int, int, int]) -> None:
        self.shape, self._path, self._repose, self._loss = shape, path, repose, loss
        self._rim_speed = (repose.angular_speed * path.radius)[:, None]
        self._field = (repose.angular_speed**2 * path.radius)[:, None]
        self.still_y = (repose.velocity**2)[:, None]
        self.still_w = repose.lag[:, None] * self._rim_speed
        self._still = self._rates(self.still_y, self.still_w, _Lean.of(repose.angle[:, None]))
        self._bound = ~np.broadcast_to(path.at_repose, repose.angle.shape)[:, None, 1:]  # to the place before
        self._wall = _Lean.of(np.broadcast_to(path.wall_angle, repose.angle.shape)[:, None])

    def _rates(self, y: FloatArray, w: FloatArray, theta: _Lean) -> _Rates:
        r, speed = self._repose, self._repose.angular_speed[:, None]
        flow, heaping = r.rim_flow[:, None], r.heaping[:, None]
        velocity, relative = np.sqrt(y), np.sqrt(y + w * w)
        friction = film_friction(flow / velocity, r.grain_size[:, None], r.reynolds[:, None])
        remaining = 1.0 - w / self._rim_speed
        field = self._field * remaining * remaining
        tilt = GRAVITY / field
        level = 1.0 / np.sqrt(1.0 + tilt * tilt)  # cosine of the tilt
        sine, cosine = ((theta.sine - theta.cosine * tilt) * level, (theta.cosine + theta.sine * tilt) * level)
        drag = friction.factor * relative / (8.0 * flow)
        drag_by_w = drag * w / relative**2
        drag_by_y = 0.5 * drag * (1.0 / relative**2 - friction.gradient / y)
        weight = 2.0 * field * heaping
        drive = weight * sine  # of alpha
        turn_by_lag = -2.0 * tilt * level * level  # d alpha/d L times (1 - L)
        drive_by_lag = weight * (cosine * turn_by_lag - 2.0 * sine) / remaining
        swing = 2.0 * speed * theta.sine
        return _Rates(
            along=drive - 2.0 * drag * y,
            along_by_y=-2.0 * (drag + y * drag_by_y),
            along_by_w=drive_by_lag / self._rim_speed - 2.0 * y * drag_by_w,
            round=swing * remaining - drag * w,
            round_by_y=-drag_by_y * w,
            round_by_w=-swing / self._rim_speed - drag - drag_by_w * w,
        )

    def newton(self, y: FloatArray, w: FloatArray) -> tuple[FloatArray, FloatArray]:
        """The next step x = (y, W) at every place: A x = e + G x', with x' of the place before and e what is wrong."""
        at, still, bound = self._rates(y, w, self._wall), self._still, self._bound
        half = bound * (0.5 * self._path.step)
        off_y, off_w = y - self.still_y, w - self.still_w
        along, turn = at.along - still.along, at.round - still.round
        fallen_y, fallen_w, fallen_y_by_w, fallen_w_by_w = self._landing(y, w)
        wrong_y, wrong_w = -off_y, -off_w
        wrong_y[..., 1:] += bound * (off_y[..., :-1] + fallen_y) + half * (along[..., 1:] + along[..., :-1])
        wrong_w[..., 1:] += bound * (off_w[..., :-1] + fallen_w) + half * (turn[..., 1:] + turn[..., :-1])
        rates = at.along_by_y, at.along_by_w, at.round_by_y, at.round_by_w
        own = [half * rate[..., 1:] for rate in rates]
        given = [half * rate[..., :-1] for rate in rates]
        return _upwards(
            (1.0 - own[0], -own[1], -own[2], 1.0 - own[3]),
            (given[0] + bound, given[1] + bound * fallen_y_by_w, given[2], given[3] + bound * (1.0 + fallen_w_by_w)),
            wrong_y,
            wrong_w,
        )

    def _landing(self, y: FloatArray, w: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """What y and W gain where the stream falls to the next place, and how that changes with W here."""
        fall = self._path.fall[:, None, 1:]
        speed, rim = self._repose.angular_speed[:, None], self._rim_speed[..., :-1]
        remaining = 1.0 - w[..., :-1] / rim
        kept = 2.0 * self._field[..., :-1] * fall * (1.0 - self._loss)
        swing = 2.0 * speed * fall
        return kept * remaining**2, swing * remaining, -2.0 * kept * remaining / rim, -swing / rim


Four = tuple[FloatArray, FloatArray, FloatArray, FloatArray]


def _upwards(own: Four, given: Four, wrong_y: FloatArray, wrong_w: FloatArray) -> tuple[FloatArray, FloatArray]:
    """A x = e + G x' from the lowest place up: A (own) and G (given) by rows, (d, 3, n - 1), e (d, 3, n).

    Each place's pair is solved for at once, A^-1 e and A^-1 G; what is left is triangular.
    """
    a, b, c, d = own
    whole = 1.0 / (a * d - b * c)
    a, b, c, d = d * whole, -b * whole, -c * whole, a * whole
    pairs, bands = np.empty((*wrong_y.shape, 2)), np.zeros((*wrong_y.shape, 2, 4))  # a column's diagonal, three below
    pairs[..., 0, 0], pairs[..., 0, 1] = wrong_y[..., 0], wrong_w[..., 0]
    pairs[..., 1:, 0] = a * wrong_y[..., 1:] + b * wrong_w[..., 1:]
    pairs[..., 1:, 1] = c * wrong_y[..., 1:] + d * wrong_w[..., 1:]
    for column in (0, 1):
        bands[..., :-1, column, 2 - column] = -(a * given[column] + b * given[2 + column])
        bands[..., :-1, column, 3 - column] = -(c * given[column] + d * given[2 + column])
    found = _substituted(bands, pairs)
    if not np.isfinite(found).all():  # what makes no sense under one duty and loss must not reach the next
        for lane in np.ndindex(pairs.shape[:-2]):
            found[lane] = _substituted(bands[lane], pairs[lane])
    return found[..., 0], found[..., 1]


def _substituted(bands: FloatArray, right: FloatArray) -> FloatArray:
    from scipy.linalg.lapack import dtbtrs  # when used: nothing on the way to the first paint needs it

    found, _ = dtbtrs(bands.reshape(-1, 4).T, right.reshape(-1, 1), uplo="L", diag="U")
    return np.asarray(found).reshape(right.shape)
