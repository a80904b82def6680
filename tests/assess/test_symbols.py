"""Letters are defined where they are used: every equation of a quantity has a meaning for each of its letters."""

import pytest

from profiler.assess.quantities.quantity import Quantity
from profiler.assess.quantities.symbols import OWN, SYMBOLS, legend, symbols_of
from profiler.assess.quantities.table import QUANTITIES
from profiler.lessons import LESSONS


def test_letters_are_told_from_words() -> None:
    assert symbols_of("θ_f = q_m a σ·d/h over r_0² in a cycle, the gangue's d50") == (
        "θ_f", "q_m", "a", "σ", "d/h", "r_0",
    )  # fmt: skip
    assert symbols_of("½ρω²(r_i² − r_in²) − ρg(z_i − z_in)") == ("ρ", "ω", "r_i", "r_in", "g", "z_i", "z_in")
    assert symbols_of("wall angle − repose angle") == ()


@pytest.mark.parametrize("quantity", QUANTITIES, ids=lambda q: q.key)
def test_every_letter_of_a_quantitys_equation_has_a_meaning(quantity: Quantity) -> None:
    found = legend(quantity.equation, OWN.get(quantity.key))
    assert [letter for letter, _ in found] == list(symbols_of(quantity.equation))
    assert all(meaning for _, meaning in found)


def test_a_letter_without_a_meaning_is_refused_and_no_meaning_stands_unused() -> None:
    with pytest.raises(KeyError):
        legend("ξ = 2 r")
    equations = {q.key: q.equation for q in QUANTITIES}
    assert set(OWN) <= set(equations)
    assert [key for key, own in OWN.items() if not set(own) & set(symbols_of(equations[key]))] == []
    general = {s for key, text in equations.items() for s in symbols_of(text) if s not in OWN.get(key, {})}
    general |= {s for lesson in LESSONS for s in symbols_of(lesson.why.equation)}
    assert set(SYMBOLS) == general
