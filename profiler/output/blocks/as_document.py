"""A report as one HTML file with its pictures in it, to read in a browser or to print."""

from html import escape

from profiler.output.blocks.as_html import block_html
from profiler.output.blocks.blocks import Grid, Heading, Report
from profiler.pictures.basics.palette import PRINT, style_names

_STYLE = """
body { font: 10pt/1.45 "DejaVu Sans", sans-serif; color: var(--text);
  max-width: 180mm; margin: 10mm auto; padding: 0 5mm; }
h1 { font-size: 17pt; } h2 { font-size: 13pt; margin: 9mm 0 2mm; border-bottom: .3mm solid var(--rule); }
h3 { font-size: 10.5pt; margin: 5mm 0 1.5mm; }
table { border-collapse: collapse; width: 100%; margin: 2mm 0 4mm; font-size: 8.5pt; }
td, th { border-bottom: .2mm solid var(--rule); padding: .6mm 1.2mm; text-align: left; vertical-align: top; }
td.n, th.n { text-align: right; padding-right: 3mm; font-variant-numeric: tabular-nums; }
caption { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
table.hand td { height: 6mm; }
th { border-bottom: .4mm solid var(--muted); } figure { margin: 3mm 0; } figure svg { max-width: 100%; height: auto; }
figure div { display: flex; } figcaption { font-size: 8.5pt; color: var(--muted); }
.strong { font-weight: bold; color: var(--stop); }
.marks { font-size: 8.5pt; color: var(--muted); } nav li { margin: .5mm 0; }
@media print { body { margin: 0; max-width: none; } h2, h3 { break-after: avoid; } tr, figure { break-inside: avoid; } }
"""


def report_html(report: Report) -> str:
    """The text of one file that needs no other."""
    sections = [b.text for b in report.blocks if isinstance(b, Heading) and b.level == 1]
    listed = "".join(f'<li><a href="#s{k}">{escape(t)}</a></li>' for k, t in enumerate(sections, 1))
    parts = [
        "<!DOCTYPE html>",
        f'<html lang="en"><head><meta charset="utf-8"><title>{escape(report.title)}</title>',
        f"<style>{style_names(PRINT)}{_STYLE}</style></head><body>",
        f"<h1>{escape(report.title)}</h1>",
        f'<p class="marks">{escape("   ".join(report.marks))}</p>',
        f"<nav><ol>{listed}</ol></nav>" if listed else "",
    ]
    number, heading = 0, report.title
    for block in (*report.front, *report.blocks):
        anchor = ""
        if isinstance(block, Heading):
            heading = block.text
            if block.level == 1:
                number += 1
                anchor = f"s{number}"
        parts.append(block_html(block, anchor, heading if isinstance(block, Grid) else ""))
    return "\n".join([*parts, "</body></html>", ""])
