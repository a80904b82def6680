"""A judged trial as text for the terminal, at most 100 columns wide. Nothing is computed here."""

from textwrap import wrap

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.words import GateState

WIDTH = 100
_ORDER = (GateState.FAILED, GateState.WAIVED, GateState.NOT_RECORDED, GateState.MET)


def trial_text(found: TrialEvaluation, remarks: tuple[str, ...] = ()) -> str:
    """Verdict, account, gates with the failed first, flagged runs, error budget, prediction, remarks."""
    assert found.judgement is not None
    verdict = found.judgement.verdict
    gates = sorted(verdict.gates, key=lambda gate: _ORDER.index(gate.state))
    flagged = [
        f"{run.run}: {flag.text}"
        for run, flags in zip(found.trial.runs, found.balances.flags, strict=True)
        for flag in flags
    ]
    parts = [
        *_wrapped(f"Trial: {found.trial.name}: {verdict.new} against {verdict.reference}"),
        *_wrapped(verdict.text),
        "",
        *_wrapped(found.account),
        "",
        "Gates",
        *(line for gate in gates for line in _row(gate.state.value, f"{gate.label}: {gate.text}{_why(gate.reason)}")),
    ]
    parts += _listed("Runs flagged (nothing is changed)", flagged)
    parts += _listed("Size classes", _sizes(found))
    parts += _listed("Error budget", _budget(found))
    parts += _listed(
        "What the program says of the designs, at the settings as run", [p.text for p in found.predictions]
    )
    parts += _listed("Remarks", [*remarks, *found.problems])
    return "\n".join(parts) + "\n"


def _sizes(found: TrialEvaluation) -> list[str]:
    sizes = found.sizes
    if sizes is None:
        return []
    rows = []
    for k, (word, test) in enumerate(zip(sizes.words, sizes.tests, strict=True)):
        part = 100.0 * sizes.gain.by_design[k]
        text = f"{word} µm: {100.0 * sizes.reference_recoveries[k]:.1f} to {100.0 * sizes.new_recoveries[k]:.1f} %"
        interval = "no interval"
        if test is not None:
            low, high = 100.0 * test.interval95.low, 100.0 * test.interval95.high
            interval = f"95 % interval of the difference {low:+.1f} to {high:+.1f}, Holm p {test.holm_p:.2g}"
        rows.append(f"{text}, gives {part:+.2f} points; {interval}")
    gain = sizes.gain
    return [
        *rows,
        f"Together {100.0 * gain.raw:+.2f} points: {100.0 * gain.design:+.2f} by the design, "
        f"{100.0 * gain.head:+.2f} by heads that differ",
    ]


def _budget(found: TrialEvaluation) -> list[str]:
    budget = found.budget
    if budget is None:
        return [found.budget_trouble]
    parts = ", ".join(f"{part.name} {part.sd_points:.2f}" for part in budget.parts)
    text = f"One run scatters by {budget.expected_sd_points:.2f} points as far as known ({parts})"
    if budget.observed_sd_points is not None:
        text += f"; seen {budget.observed_sd_points:.2f}"
    missing = f"; not known: {', '.join(budget.missing)}" if budget.missing else ""
    return [f"{text}{missing}. {budget.advice[:1].upper()}{budget.advice[1:]}."]


def _why(reason: str) -> str:
    return f" (reason: {reason})" if reason else ""


def _listed(heading: str, sentences: list[str]) -> list[str]:
    if not sentences:
        return []
    return ["", heading, *(line for s in sentences for line in _wrapped(s, "  ", "    "))]


def _row(head: str, text: str) -> list[str]:
    return wrap(text, WIDTH, initial_indent=f"  {head:<14}", subsequent_indent=" " * 16) or [f"  {head}"]


def _wrapped(text: str, first: str = "", later: str = "") -> list[str]:
    return wrap(text, WIDTH, initial_indent=first, subsequent_indent=later)
