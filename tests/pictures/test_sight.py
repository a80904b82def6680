"""Every colour is seen: texts, marks and borders in each palette, and the states without telling red from green."""

from dataclasses import replace

import pytest

from profiler.assess.eddy.lids import Driving
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.display import Item, Role
from profiler.pictures.basics.palette import DARK, LIGHT, PRINT, Palette
from profiler.pictures.basics.state_marks import STATE_ROLES, pattern, pattern_role, state_box
from profiler.pictures.strips.eddy_marks import _mark
from tests.pictures.sight import DEUTERANOPE, MARK, TEXT, contrast, contrast_for_deuteranopes, mixed

WRITTEN = (  # roles that labels of the pictures have
    Role.TEXT, Role.FAINT, Role.WALL, Role.REPOSE, Role.CHOSEN, Role.CURSOR, Role.STOP, Role.FLOW, Role.SEAT,
    Role.STRONG,
)  # fmt: skip
MARKS = (Role.WALL, Role.SEAT, Role.GHOST, Role.REPOSE, Role.STRONG, Role.WEAK, Role.KNOT, Role.CHOSEN, Role.CURSOR,
         Role.STOP, Role.BAR, Role.FLOW)  # fmt: skip
CURVES = (Role.WALL, Role.REPOSE, Role.GHOST, Role.CHOSEN, Role.KNOT)  # what runs through the tints
TINTS = ((Role.BAND, 0.8), (Role.OPENS, 0.55), (Role.STANDS, 0.55))  # with the opacity the strips give them
APART = 1.5  # contrast of strong and weak: our own bound; what is seen of it is a step in lightness

each_palette = pytest.mark.parametrize("palette", (LIGHT, DARK, PRINT), ids=lambda p: p.name)
on_screen = pytest.mark.parametrize("palette", (LIGHT, DARK), ids=lambda p: p.name)


def too_low(least: float, pairs: dict[str, tuple[str, str]]) -> dict[str, float]:
    found = {name: round(contrast(*pair), 2) for name, pair in pairs.items()}
    return {name: ratio for name, ratio in found.items() if ratio < least}


def test_the_formula_gives_the_ratios_that_are_published() -> None:
    """Black on white 21:1 (WCAG 2.2); #767676 on white, known as the lightest grey that passes, 4.54:1."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0, abs=1e-9)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


def test_a_deuteranope_sees_greys_as_they_are_and_some_red_and_green_alike() -> None:
    assert DEUTERANOPE.sum(axis=1) == pytest.approx([1.0, 1.0, 1.0], abs=1e-5)
    assert contrast_for_deuteranopes("#000000", "#ffffff") == pytest.approx(21.0, abs=1e-3)
    assert contrast_for_deuteranopes("#d0714a", "#b98345") < 1.15  # a strong and a weak that are no pair


@each_palette
def test_every_text_of_a_picture_can_be_read(palette: Palette) -> None:
    paper = palette.roles[Role.PAPER]
    row = mixed(palette.roles[Role.CHOSEN], paper, 0.22)  # of the chosen groove
    pairs = {f"{role} on paper": (palette.roles[role], paper) for role in WRITTEN}
    pairs |= {f"{role} on the chosen row": (palette.roles[role], row) for role in (Role.TEXT, Role.FAINT)}
    assert too_low(TEXT, pairs) == {}


@each_palette
def test_every_mark_of_a_picture_can_be_seen(palette: Palette) -> None:
    paper = palette.roles[Role.PAPER]
    pairs = {f"{role} on paper": (palette.roles[role], paper) for role in MARKS}
    for tint, opacity in TINTS:
        ground = mixed(palette.roles[tint], paper, opacity)
        pairs |= {f"{role} on {tint}": (palette.roles[role], ground) for role in CURVES}
    assert too_low(MARK, pairs) == {}


@each_palette
@pytest.mark.parametrize("state", State)
def test_a_state_is_seen_and_so_is_its_pattern(palette: Palette, state: State) -> None:
    """Against the paper by its colour or its pattern; the pattern on the colour."""
    fill, ink, paper = (palette.roles[r] for r in (STATE_ROLES[state], pattern_role(state), Role.PAPER))
    assert max(contrast(fill, paper), contrast(ink, paper)) >= MARK
    if len(pattern(state, 0.0, 0.0, 40.0, 40.0)):
        assert contrast(ink, fill) >= MARK
    else:
        assert contrast(fill, paper) >= MARK


@each_palette
def test_strong_and_weak_are_apart_for_those_who_do_not_tell_red_from_green(palette: Palette) -> None:
    strong, weak = palette.roles[Role.STRONG], palette.roles[Role.WEAK]
    assert contrast_for_deuteranopes(strong, weak) >= APART
    assert contrast(strong, weak) >= APART  # and in grey, as a printer gives them


def test_no_two_states_have_the_same_pattern() -> None:
    drawn = [pattern(state, 0.0, 0.0, 40.0, 40.0).tolist() for state in State]
    assert all(one != other for i, one in enumerate(drawn) for other in drawn[i + 1 :])


@on_screen
def test_every_text_of_the_window_can_be_read(palette: Palette) -> None:
    grounds = {"window": palette.window, "base": palette.base, "hover": palette.rule}
    texts = {"text": palette.text, "muted": palette.muted, "accent": palette.accent}
    pairs = {f"{t} on {g}": (text, ground) for t, text in texts.items() for g, ground in grounds.items()}
    pairs["on accent"] = (palette.on_accent, palette.accent)
    pairs |= {f"stop on {g}": (palette.roles[Role.STOP], grounds[g]) for g in ("window", "base")}
    assert too_low(TEXT, pairs) == {}


@each_palette
def test_every_border_of_what_is_typed_into_or_pressed_can_be_seen(palette: Palette) -> None:
    """Lines between parts (rule) tell nothing that the room between the parts does not tell."""
    pairs = {
        f"{name} on {ground}": (colour, at)
        for name, colour in (("edge", palette.edge), ("accent", palette.accent), ("stop", palette.roles[Role.STOP]))
        for ground, at in (("window", palette.window), ("base", palette.base))
    }
    assert too_low(MARK, pairs) == {}


def without_colours(items: list[Item]) -> list[str]:
    return [repr(replace(item, role=Role.TEXT)) for item in items]


@pytest.mark.parametrize("looks", ("box", "mark", "small mark"))
def test_states_and_eddies_are_told_apart_without_their_colours(looks: str) -> None:
    """Boxes serve tapes, charts, comparisons and legends; marks serve the section."""
    if looks == "box":
        drawn = [without_colours(state_box(state, 0.0, 0.0, 40.0, 40.0)) for state in State]
    else:
        size = 12.0 if looks == "mark" else 3.0
        kinds = [(Driving.DRIVEN, True), (Driving.DRIVEN, False), (Driving.IN_DOUBT, False), (Driving.NONE, False)]
        drawn = [without_colours(_mark(driven, strong, 0.0, 0.0, size)) for driven, strong in kinds]
    assert all(one != other for i, one in enumerate(drawn) for other in drawn[i + 1 :])


@each_palette
def test_an_eddy_is_seen_on_the_bed_and_in_the_water(palette: Palette) -> None:
    paper = palette.roles[Role.PAPER]
    grounds = {role: mixed(palette.roles[role], paper, share) for role, share in ((Role.BED, 0.75), (Role.BAND, 0.5))}
    roles = {item.role for driven in Driving for item in _mark(driven, True, 0.0, 0.0, 12.0)}
    pairs = {f"{role} on {tint}": (palette.roles[role], ground) for role in roles for tint, ground in grounds.items()}
    assert too_low(MARK, pairs) == {}
