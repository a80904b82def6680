"""The protocol of a trial to print and to sign before the first run: one HTML page, and the order by chance.

What it asks for is what the gates ask for afterwards. Plain HTML for any browser and printer.
"""

from collections.abc import Iterable
from html import escape

from profiler.assess.cautions import OF_TRIALS
from profiler.pictures.basics.palette import PRINT, style_names
from profiler.statistics.trial.planner import chance_order
from profiler.study.records.trial import Trial

_STYLE = """
body { font: 10.5pt/1.4 sans-serif; color: var(--text); max-width: 180mm; margin: 12mm auto; }
h1 { font-size: 16pt; margin: 0 0 2mm; }
h2 { font-size: 11.5pt; margin: 6mm 0 1.5mm;
  border-bottom: 0.3mm solid var(--rule); }
table { border-collapse: collapse; width: 100%; } td, th { border: 0.2mm solid var(--rule); padding: 1mm 2mm;
  text-align: left; }
th { background: var(--shade); } li { margin-bottom: 0.8mm; } .sign td { height: 9mm; } .blank { color: var(--stop); }
@media print { body { margin: 0; } h2 { break-after: avoid; } tr { break-inside: avoid; } }
"""

_RULES = (
    "Only the bowl changes: speed, fluidising water, feed rate, solids and cycle stay as set, and are written down.",
    "Every pair gets the same lot of feed, split; the order within a pair is the one drawn below, not the handy one.",
    "Start, stop and rinse, and what is read and noted meanwhile, go by the set-up sheet of the bowl: one for each, "
    "of the same duty, printed before the first run and kept with this protocol.",
    "The bowl is cleaned out before every run, or the first cycle after a change is thrown away: it holds gold of the "
    "bowl before.",
    "Both bowls are in the same state of wear. Hours on each liner are written down.",
    "Concentrate is dried, weighed and assayed as a whole, or its coarse part to extinction.",
    "Tails are sampled over the whole run; sample masses are written down. At least every tenth sample in duplicate.",
    "A feed sample outside the balance gives the feed grade that is compared.",
    "No run is left out after its result is known but by the rule below; a run left out stays in the ledger with the "
    "reason.",
    "The trial ends at the number of pairs planned, not where the result looks good.",
    "One series of the reference against itself shows that the test finds no difference where there is none.",
)

CAUTION = (
    "Spinning bowls and pressurised water can kill. Stand clear, guard, lock out before a bowl is changed, and follow "
    "local codes and the procedures of the site; a licensed engineer answers for the machine."
)


def protocol_html(trial: Trial, designs: tuple[str, str], pairs: int, seed: int) -> str:
    """A page for these two designs (reference, new). The order drawn can be drawn again from the seed it names."""
    plan = trial.plan
    gain = None if plan.worthwhile_points is None else f"{plan.worthwhile_points:g} percentage points"
    circuit = (
        (f"three residence times of the load ({plan.load_residence_h or '?'} h each) pass after every change of bowl",)
        if plan.in_circuit
        else ()
    )
    settled = (
        ("Reference", designs[0]),
        ("New design", designs[1]),
        ("Layout", plan.structure.value),
        ("Planned", f"{pairs} pairs"),
        ("Measure", plan.basis.value),
        ("Size cut", plan.size_cut),
        ("Least gain worth having", gain or ""),
        ("where it comes from", plan.worthwhile_source),
        ("Runs are left out if", plan.exclusion_rule),
        ("Feed tolerance", f"{plan.feed_tolerance_pct:g} % of grade and F80"),
        ("Stamped", plan.stamped),
    )
    body = (
        f"<h1>Trial: {escape(trial.name)}</h1>",
        "<h2>Settled beforehand</h2>",
        _table((), ([head, text or None] for head, text in settled)),
        "<h2>How it is run</h2>",
        "<ol>",
        *(f"<li>{escape(rule)}</li>" for rule in (*_RULES, *circuit)),
        "</ol>",
        f"<h2>Order, at random (seed {seed})</h2>",
        _table(("Pair", "First", "Second"), _order(designs, pairs, seed)),
        "<h2>Caution</h2>",
        *(f"<p>{escape(words)}</p>" for words in (CAUTION, *(c.words for c in OF_TRIALS))),
        "<h2>Agreed</h2>",
        '<table class="sign"><tr><th>Name</th><th>Part in the trial</th><th>Date</th><th>Signature</th></tr>',
        "<tr><td></td><td></td><td></td><td></td></tr>" * 3,
        "</table>",
    )
    style = f"<style>{style_names(PRINT)}{_STYLE}</style>"
    head = f'<head><meta charset="utf-8"><title>{escape(trial.name)}: protocol</title>{style}</head>'
    return f'<!DOCTYPE html>\n<html lang="en">{head}<body>\n' + "\n".join(body) + "\n</body></html>\n"


def _order(designs: tuple[str, str], pairs: int, seed: int) -> Iterable[list[str | None]]:
    for pair, first in enumerate(chance_order(pairs, seed), 1):
        yield [str(pair), *(designs if first else designs[::-1])]


def _table(head: tuple[str, ...], rows: Iterable[list[str | None]]) -> str:
    top = f"<tr>{''.join(f'<th>{escape(word)}</th>' for word in head)}</tr>" if head else ""
    return f"<table>{top}{''.join(f'<tr>{_cells(row)}</tr>' for row in rows)}</table>"


def _cells(row: list[str | None]) -> str:
    blank = '<td class="blank">to be agreed</td>'
    return "".join(blank if cell is None else f"<td>{escape(cell)}</td>" for cell in row)
