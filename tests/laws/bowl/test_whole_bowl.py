"""Whole bowls under whole duties against what people of the trade know. Common practice, no source.

Each statement is checked over the range it is stated for, in a small and in a large bowl, with the program as it is
used: film lag on, the repose band widened as without a measurement. No water is added, which is the severest case for
an exposed wall: water lowers the solids fraction and with it the repose angle.
"""

from dataclasses import dataclass
from itertools import pairwise, product
from math import atan, degrees, sqrt

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE
from profiler.physics.slurry.overturn import State
from profiler.study import Body, Design, Duty, GrooveRule, Knot, WallCurve
from profiler.study.files import examples
from profiler.units import DEGREE, GRAVITY, MM, RPM

MACHINE = replace(examples.read("graded").machine, entry_mm=0.0)  # a state is claimed from the floor up
WATER = 998.2  # kg/m3 at 20 C
SOLIDS = 2700.0


@dataclass(frozen=True, slots=True)
class Bowl:
    """A bowl by its lip radius, with the flow of slurry it takes."""

    name: str
    lip_mm: float
    height_mm: float
    flow_m3_h: float

    @property
    def speed_rpm(self) -> float:
        """60 g at the lip."""
        return sqrt(60.0 * GRAVITY / (self.lip_mm * MM)) / RPM


BOWLS = (Bowl("small", 150.0, 220.0, 6.0), Bowl("large", 600.0, 900.0, 100.0))
LEAN_PCT, RICH_PCT = (20.0, 25.0, 30.0), (38.0, 45.0)
SIZES_UM = (75.0, 150.0, 300.0)


def bowl_of(*knots: Knot, bowl: Bowl) -> Design:
    """Fifteen grooves over nearly the whole wall."""
    mouth = 0.03 * bowl.height_mm
    length = 1.03 * bowl.height_mm
    grooves = GrooveRule(
        count=15, from_mm=0.02 * length, to_mm=0.97 * length,
        mouth_mm=mouth, depth_mm=mouth, floor_radius_mm=0.1 * mouth,
    )  # fmt: skip
    return Design("tried", WallCurve(knots, lip_radius_mm=bowl.lip_mm), grooves, Body(hub_hole_mm=20.0))


def duty_of(bowl: Bowl, solids_pct: float, d50_um: float) -> Duty:
    share = solids_pct / 100.0
    density = 1.0 / (share / SOLIDS + (1.0 - share) / WATER)
    return Duty(
        "tried", speed_rpm=bowl.speed_rpm, solids_pct=solids_pct, d50_um=d50_um, water_l_min=0.0,
        dry_feed_t_h=bowl.flow_m3_h * density * share * 1e-3, solids_density_kg_m3=SOLIDS,
    )  # fmt: skip


def flow_under(design: Design, *duties: Duty) -> Evaluation:
    whole = evaluate(design, MACHINE, duties, want=Stages.FLOW)
    assert whole.shape is not None and whole.flow is not None
    return whole


def deepest_mm(whole: Evaluation) -> np.ndarray:
    """(duties, low-middle-high) the deepest bed over any groove's lower edge."""
    lower = whole.shape.stations.edge_places.lower_index
    return whole.flow.bed.buried(whole.shape.stations.line)[..., lower].max(axis=-1) / MM


@pytest.mark.parametrize("bowl", BOWLS, ids=lambda b: b.name)
def test_a_cone_of_thirteen_and_a_half_degrees_is_exposed_at_every_groove_over_the_usual_slurries(bowl: Bowl) -> None:
    cone = bowl_of(Knot(0.0, 13.5), Knot(bowl.height_mm, 13.5), bowl=bowl)
    whole = flow_under(cone, *(duty_of(bowl, c, d) for c, d in product(LEAN_PCT, SIZES_UM)))
    assert np.all(deepest_mm(whole) == 0.0)
    assert np.all(whole.flow.groove_overfall > 0.0)
    assert np.all(whole.flow.groove_state >= State.WEAK)


@pytest.mark.parametrize("bowl", BOWLS, ids=lambda b: b.name)
def test_the_same_cone_stays_exposed_at_middle_friction_up_to_forty_five_per_cent_solids(bowl: Bowl) -> None:
    cone = bowl_of(Knot(0.0, 13.5), Knot(bowl.height_mm, 13.5), bowl=bowl)
    whole = flow_under(cone, *(duty_of(bowl, c, d) for c, d in product(RICH_PCT, SIZES_UM)))
    assert np.all(deepest_mm(whole)[:, [LOW, MIDDLE]] == 0.0)
    assert np.all(whole.flow.groove_overfall[:, [LOW, MIDDLE]] > 0.0)
    assert np.all(whole.flow.groove_state >= State.MATCHED)  # at high friction the band may reach it: almost all cases


@pytest.mark.parametrize("bowl", BOWLS, ids=lambda b: b.name)
def test_a_steep_cone_does_not_overturn_under_thick_slurry(bowl: Bowl) -> None:
    """So that the two tests above can fail: a cone standing steeper than repose is buried."""
    cone = bowl_of(Knot(0.0, 4.0), Knot(bowl.height_mm, 4.0), bowl=bowl)
    whole = flow_under(cone, duty_of(bowl, 60.0, 300.0))
    assert np.all(whole.flow.groove_state[0, :-1] == State.SHELTERED)


@pytest.mark.parametrize("bowl", BOWLS, ids=lambda b: b.name)
def test_an_upright_stretch_shelters_itself_and_the_top_of_a_cone_while_the_foot_stays_exposed(bowl: Bowl) -> None:
    """With the upright part from 0.85 of the height: one twice as tall buries the foot under a thick coarse feed."""
    top = 0.85 * bowl.height_mm
    design = bowl_of(Knot(0.0, 15.0), Knot(top, 15.0, 1.0), Knot(bowl.height_mm, 1.0), bowl=bowl)
    whole = flow_under(design, *(duty_of(bowl, c, d) for c, d in product((30.0, 45.0), SIZES_UM)))
    middle = whole.shape.mouths.middle
    upright, cone_top = middle > top, (middle < top) & (middle > 0.9 * top)
    foot = middle < 0.15 * bowl.height_mm
    assert upright.any() and cone_top.any() and foot.any()
    assert np.all(whole.flow.groove_state[:, upright] == State.SHELTERED)
    assert np.all(whole.flow.groove_state[:, cone_top] == State.SHELTERED)
    assert np.all(whole.flow.groove_overfall[:, MIDDLE][:, foot] > 0.0)
    alone = flow_under(bowl_of(Knot(0.0, 15.0), Knot(bowl.height_mm, 15.0), bowl=bowl), *whole.duties)
    assert np.all(alone.flow.groove_overfall[:, MIDDLE][:, cone_top] > 0.0)  # its own angle opens more than repose


@pytest.mark.parametrize("bowl", BOWLS, ids=lambda b: b.name)
def test_the_repose_angle_moves_with_particle_size_and_slurry_density(bowl: Bowl) -> None:
    cone = bowl_of(Knot(0.0, 13.5), Knot(bowl.height_mm, 13.5), bowl=bowl)
    thicker = flow_under(cone, *(duty_of(bowl, c, 150.0) for c in (20.0, 30.0, 45.0, 60.0))).flow.angle[:, MIDDLE]
    coarser = flow_under(cone, *(duty_of(bowl, 45.0, d) for d in (50.0, 75.0, 150.0, 300.0))).flow.angle[:, MIDDLE]
    assert np.all(np.diff(thicker, axis=0) > 1.0 * DEGREE)
    assert np.all(np.diff(coarser, axis=0) > 0.1 * DEGREE)


@pytest.mark.parametrize("bowl", BOWLS, ids=lambda b: b.name)
@pytest.mark.parametrize("solids_pct", [30.0, 45.0, 60.0])
def test_going_up_a_graded_wall_overturn_only_weakens(bowl: Bowl, solids_pct: float) -> None:
    """On the continuous field of the wall, since grooves are few: no state comes back once it has been left.

    A thick coarse slurry rests at so wide an angle that the wall's foot may already lie within the band.
    """
    design = bowl_of(Knot(0.0, 30.0), Knot(bowl.height_mm, 0.0), bowl=bowl)
    whole = flow_under(design, *(duty_of(bowl, solids_pct, d) for d in SIZES_UM))
    for state in whole.flow.state:
        assert np.all(np.diff(state.astype(int)) <= 0)
        assert state[0] in ((State.STRONG,) if solids_pct <= 30.0 else (State.STRONG, State.MATCHED))
        assert state[-1] == State.SHELTERED
    assert whole.flow.state[0, 0] == State.STRONG  # the finest of them


def test_the_default_example_passes_all_four_states_in_order() -> None:
    study = examples.read(examples.DEFAULT)
    whole = evaluate(study.design, study.machine, study.duty)
    claimed = whole.flow.state[0][whole.flow.state[0] != State.NONE]
    assert len(claimed) > 0.9 * len(whole.flow.state[0])
    met = [State(int(claimed[0]))]
    for below, above in pairwise(claimed):
        if above != below:
            met.append(State(int(above)))
    assert met == [State.STRONG, State.WEAK, State.MATCHED, State.SHELTERED]


def test_water_added_on_the_way_up_lowers_the_repose_angle_groove_by_groove() -> None:
    study = examples.read(examples.DEFAULT)
    whole = evaluate(study.design, study.machine, study.duty)
    dry = evaluate(study.design, study.machine, Duty(**{**as_dict(study.duty), "water_l_min": 0.0}))
    lowered = (dry.flow.angle[0, MIDDLE] - whole.flow.angle[0, MIDDLE]) / DEGREE
    at = whole.shape.stations
    none_joined = lowered[at.height <= whole.shape.mouths.lower[0]]
    assert none_joined == pytest.approx(0.0, abs=1e-7)  # degrees: the solver ends at 1e-9 of a radian or better
    upper = np.searchsorted(at.height, whole.shape.mouths.upper + 0.01)
    assert np.all(np.diff(lowered[upper[:-1]]) > 0.0)


# a liquid without friction: solids so few that there is no bed, the whole program at work. A trickle, since the surface
# is level in the film's own rotation, which lags, here by one to three thousandths.


def liquid(speed_rpm: float) -> Duty:
    return Duty("clear water", speed_rpm=speed_rpm, solids_pct=1.0, dry_feed_t_h=1e-3, d50_um=10.0, water_l_min=0.0)


def twice_heads(whole: Evaluation, bowl: Bowl) -> np.ndarray:
    """(stations,) mm2: twice the integral of g/(omega (1 - L))^2 over the height, from the floor."""
    at, lag = whole.shape.stations, whole.flow.film.lag[0, MIDDLE]
    assert np.all((lag > 0.0) & (lag < 4e-3))
    remaining = 1.0 - np.interp(at.height, at.height[at.node], lag)
    head = bowl.lip_mm / 60.0 / remaining**2
    return 2.0 * np.concatenate(([0.0], np.cumsum(0.5 * (head[1:] + head[:-1]) * np.diff(at.height))))


def test_clear_water_in_a_cylinder_takes_the_paraboloid_through_the_lip() -> None:
    bowl = BOWLS[0]
    design = Design("cylinder", WallCurve((Knot(0.0, 0.0), Knot(300.0, 0.0)), lip_radius_mm=150.0), GrooveRule(count=0))
    whole = flow_under(design, liquid(bowl.speed_rpm))
    surface = whole.flow.bed.radius[0, MIDDLE] / MM
    heads = twice_heads(whole, bowl)
    # three passes between tilt and surface leave 5e-6 mm
    assert surface == pytest.approx(np.sqrt(150.0**2 - (heads[-1] - heads)), abs=2e-5)
    assert 150.0 - surface[0] == pytest.approx(5.08623, rel=3e-3)  # derived, for a film that does not lag


def test_clear_water_in_an_opening_bowl_lies_in_every_groove_as_its_own_paraboloid() -> None:
    bowl = BOWLS[0]
    design = bowl_of(Knot(0.0, 12.0), Knot(bowl.height_mm, 12.0), bowl=bowl)
    whole = flow_under(design, liquid(bowl.speed_rpm))
    at, mouths = whole.shape.stations, whole.shape.mouths
    assert np.all(whole.flow.bed.buried(at.line)[0, MIDDLE][at.groove < 0] == 0.0)
    assert np.all(deepest_mm(whole)[0, [LOW, MIDDLE]] == 0.0)
    heads = twice_heads(whole, bowl)
    for i in range(len(mouths)):
        inside = at.groove == i
        exact = np.sqrt(mouths.upper_radius[i] ** 2 - (np.interp(mouths.upper[i], at.height, heads) - heads[inside]))
        # over a lower edge the tilt is taken at the wall, 1 % nearer to the axis than the surface just above it
        assert whole.flow.bed.radius[0, MIDDLE, inside] / MM == pytest.approx(exact, abs=0.01)


def test_the_band_of_clear_water_never_lies_below_its_tilt() -> None:
    """Nothing undercuts the level surface."""
    bowl = BOWLS[0]
    design = bowl_of(Knot(0.0, 12.0), Knot(bowl.height_mm, 12.0), bowl=bowl)
    flow = flow_under(design, liquid(bowl.speed_rpm)).flow
    assert flow.angle[0, LOW] == pytest.approx(flow.angle[0, MIDDLE], abs=1e-4)  # their lags differ by 1e-3
    assert np.all(flow.angle[0, HIGH] - flow.angle[0, MIDDLE] > 1.9 * DEGREE)
    assert degrees(float(flow.angle[0, MIDDLE, -1])) == pytest.approx(
        degrees(atan(1.0 / 60.0)), rel=3e-3
    )  # the film lags by 1e-3


def as_dict(duty: Duty) -> dict[str, object]:
    return {name: getattr(duty, name) for name in duty.__struct_fields__}
