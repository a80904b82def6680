"""What stands beside a trial's ledger, as HTML for the window and the report: verdict with gates, budget, one run.

Nothing is computed here. A verdict word stands only where its interval does.
"""

from collections.abc import Iterable
from html import escape
from math import isfinite

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.statistics.balances.balance import Estimates
from profiler.statistics.trial.gates import Gate
from profiler.statistics.trial.worth import Amount
from profiler.words import GateState

_ORDER = (GateState.FAILED, GateState.WAIVED, GateState.NOT_RECORDED, GateState.MET)


def verdict_html(found: TrialEvaluation) -> str:
    """The account, the gates with the failed first, predictions and remarks; or why there is no verdict."""
    if found.judgement is None:
        return _paragraphs((found.trouble, *found.problems))
    gates = sorted(found.judgement.verdict.gates, key=lambda gate: _ORDER.index(gate.state))
    parts = [
        f"<p><b>{escape(_capital(found.judgement.verdict.text))}.</b></p>",
        f"<p>{escape(found.account)}</p>",
        "<h4>Gates</h4>",
        f"<table cellpadding='2'>{''.join(_gate(gate) for gate in gates)}</table>",
    ]
    if found.predictions:
        parts += ["<h4>What the program says of the designs</h4>", _paragraphs(p.text for p in found.predictions)]
    if found.problems:
        parts += ["<h4>Remarks</h4>", _paragraphs(found.problems[:12])]
    return "".join(parts)


def budget_html(found: TrialEvaluation) -> str:
    """Error budget, ounces and money."""
    parts = ["<h4>Where the scatter comes from</h4>"]
    budget = found.budget
    if budget is None:
        parts.append(f"<p>{escape(found.budget_trouble)}</p>")
    else:
        rows = [(part.name, f"{part.sd_points:.2f}") for part in budget.parts]
        rows += [(f"<i>{name}</i>", "not known") for name in budget.missing]
        rows.append(("<b>one run, as far as known</b>", f"<b>{budget.expected_sd_points:.2f}</b>"))
        if budget.observed_sd_points is not None and budget.observed_interval is not None:
            limits = f"{budget.observed_interval.low:.2f} to {budget.observed_interval.high:.2f}"
            rows.append(("<b>one run, as seen</b> (95 %)", f"<b>{budget.observed_sd_points:.2f}</b> ({limits})"))
        parts += [_table(rows, "points"), f"<p>{escape(_capital(budget.advice))}.</p>"]
    worth = None if found.judgement is None else found.judgement.worth
    parts.append("<h4>What the gain is worth in a year (95 % interval)</h4>")
    if worth is None:
        parts.append("<p>Give tonnes a year and head grade, and there must be a comparison.</p>")
        return "".join(parts)
    money = [("caught by gravity", f"{_amount(worth.caught_oz)} oz")]
    if worth.extra_oz is not None:
        money.append(("of it extra metal", f"{_amount(worth.extra_oz)} oz"))
    else:
        money.append(("of it extra metal", "not known: give the three returns"))
    if found.net_a_year is not None:
        money.append(("net of wear and other cost, your money", _amount(found.net_a_year)))
    return "".join((*parts, _table(money)))


def run_html(found: TrialEvaluation, row: int) -> str:
    """One run: its recoveries by every way of working out, its flags, and what the program says of its design."""
    run, b = found.trial.runs[row], found.balances.balances
    r = found.balances.reconciled
    rows = [
        ("recovery on built-up head", _estimate(b.built_up, row)),
        ("concentrate over assayed feed", _estimate(b.over_feed, row)),
        ("two-product formula", _estimate(b.two_product, row)),
        ("reconciled", _estimate(Estimates(r.recovery, r.recovery_sd), row)),
        ("as entered", "–" if run.recovery_pct is None else f"{run.recovery_pct:g} %"),
        ("accountability", _estimate(b.accountability, row)),
        ("mass pull", _number(100.0 * float(b.mass_pull[row]), " %", 4)),
        ("upgrade", _number(float(b.upgrade[row]), "", 0)),
        ("built-up head", _number(float(b.built_up_head[row]), " g/t", 2)),
        ("chi-square of the balance", f"{_number(float(r.chi_square[row]), '', 2)} (limit 3.84)"),
    ]
    left_out = f", left out: {run.exclusion_reason or 'no reason given'}" if run.excluded else ""
    flags = [flag.text for flag in found.balances.flags[row]]
    prediction = next((p.text for p in found.predictions if p.design == run.design), "")
    return "".join(
        (
            f"<p><b>Run {escape(run.run)}, {escape(run.design)}{escape(left_out)}</b></p>",
            _table(rows),
            "<h4>Flags (nothing is changed by them)</h4>" if flags else "",
            _paragraphs(flags),
            "<h4>What the program says of its design</h4>" if prediction else "",
            _paragraphs([prediction] if prediction else ()),
            f"<p>{escape(run.remarks)}</p>" if run.remarks else "",
        )
    )


def _gate(gate: Gate) -> str:
    state = escape(gate.state.value)
    strong = f"<b>{state}</b>" if gate.state is GateState.FAILED else state
    text = "" if gate.text == gate.state.value else f": {gate.text}"
    reason = f" (reason: {gate.reason})" if gate.reason else ""
    return f"<tr><td width='84'>{strong}</td><td>{escape(gate.label + text + reason)}</td></tr>"


def _table(rows: Iterable[tuple[str, str]], unit: str = "") -> str:
    """Heads may hold marks of their own; they are this file's words."""
    cells = (f"<tr><td>{head}</td><td align='right'>&nbsp;&nbsp;{value} {unit}</td></tr>" for head, value in rows)
    return f"<table cellpadding='2'>{''.join(cells)}</table>"


def _paragraphs(sentences: Iterable[str]) -> str:
    return "".join(f"<p>{escape(sentence)}</p>" for sentence in sentences)


def _estimate(estimates: Estimates, row: int) -> str:
    value, sd = float(estimates.value[row]), float(estimates.sd[row])
    if not isfinite(value):
        return "–"
    return f"{100.0 * value:.2f} %" + (f" ± {100.0 * sd:.2f}" if isfinite(sd) else "")


def _number(value: float, unit: str, decimals: int) -> str:
    return f"{value:.{decimals}f}{unit}" if isfinite(value) else "–"


def _amount(amount: Amount) -> str:
    return f"{amount.estimate:,.0f} ({amount.interval.low:,.0f} to {amount.interval.high:,.0f})"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
