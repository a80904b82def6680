"""What a trial says, as blocks: verdict and account, gates, flagged runs, predictions, remarks.

A verdict word stands only where its interval does. Nothing is computed here.
"""

from collections.abc import Sequence

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.numbers import fixed, with_minus
from profiler.output.blocks.blocks import DASH, Block, Grid, Heading, Paragraph
from profiler.statistics.trial.gates import Gate
from profiler.words import GateState

WORST_FIRST = (GateState.FAILED, GateState.WAIVED, GateState.NOT_RECORDED, GateState.MET)


def verdict_blocks(found: TrialEvaluation) -> list[Block]:
    """The verdict with its interval and its account, or why there is none."""
    if found.judgement is None:
        return [Paragraph(f"No verdict: {found.trouble}", strong=True)]
    return [Paragraph(sentence(found.judgement.verdict.text), strong=True), Paragraph(with_minus(found.account))]


def gate_blocks(found: TrialEvaluation) -> list[Block]:
    """Worst first; nothing where there is no verdict to close."""
    if found.judgement is None:
        return []
    gates = sorted(found.judgement.verdict.gates, key=lambda gate: WORST_FIRST.index(gate.state))
    failed = tuple(k for k, gate in enumerate(gates) if gate.state is GateState.FAILED)
    return [
        Heading("Gates: was it a fair comparison", 2),
        Grid(("", "Gate", "What was found"), tuple(map(_gate, gates)), (0.8, 1.6, 4.6), strong=failed),
    ]


def _gate(gate: Gate) -> tuple[str, str, str]:
    text = "" if gate.text == gate.state else with_minus(gate.text)
    reason = f" (reason: {gate.reason})" if gate.reason else ""
    return gate.state.value, gate.label, f"{text}{reason}".strip() or DASH


def flag_blocks(found: TrialEvaluation) -> list[Block]:
    """Every flag by its run, and what is odd about several; nothing where there is none."""
    rows = [
        (run.run, with_minus(flag.text))
        for run, flags in zip(found.trial.runs, found.balances.flags, strict=True)
        for flag in flags
    ]
    rows += [] if found.judgement is None else [(", ".join(odd.runs), odd.text) for odd in found.judgement.odd]
    if not rows:
        return []
    return [
        Heading("Runs to look at (nothing is changed or dropped)", 2),
        Grid(("Run", "Why"), tuple(rows), (0.8, 6.0)),
    ]


def prediction_blocks(found: TrialEvaluation) -> list[Block]:
    """What the slurry model says of both designs at the settings they ran at."""
    if not found.predictions:
        return []
    return [
        Heading("Predicted groove states (no recovery)", 2),
        *(Paragraph(with_minus(prediction.text)) for prediction in found.predictions),
        *_difference_blocks(found),
        *([Paragraph(with_minus(found.of_prediction))] if found.of_prediction else []),
    ]


def _difference_blocks(found: TrialEvaluation) -> list[Block]:
    """What else differs between the two bowls besides the wall's curve."""
    if not found.differences or found.judgement is None:
        return []
    verdict = found.judgement.verdict
    rows = tuple(
        (f"{d.label}, {d.unit}" if d.unit else d.label, fixed(d.reference, d.decimals), fixed(d.new, d.decimals))
        for d in found.differences
    )
    heads = ("What else differs besides the wall's curve", verdict.reference, verdict.new)
    return [Grid(heads, rows, (2.6, 1.2, 1.2), share=0.8)]


def remark_blocks(found: TrialEvaluation, more: Sequence[str] = (), most: int | None = None) -> list[Block]:
    """Sentences about single entries, after those given; `most` cuts them short and says so."""
    remarks = [*more, *found.problems]
    if not remarks:
        return []
    shown = remarks if most is None else remarks[:most]
    rest = [f"and {len(remarks) - len(shown)} more"] if len(shown) < len(remarks) else []
    return [Heading("Remarks", 2), *(Paragraph(with_minus(remark)) for remark in (*shown, *rest))]


def sentence(text: str) -> str:
    """With a capital and a full stop, and a printer's minus signs."""
    return f"{with_minus(text[:1].upper() + text[1:])}."
