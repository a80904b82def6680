"""`python -m tests.benchmarks [--counts N]`: measure, and print the table."""

import argparse
import os
import platform

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from tests.benchmarks.eddies import eddies
from tests.benchmarks.measures import Counts, Row, measured
from tests.benchmarks.trials import judging


def table(rows: list[Row]) -> str:
    """Median and 99th percentile against what is asked, in milliseconds."""
    lines = [f"{'':46}{'median':>9}{'asked':>8}{'p99':>9}{'asked':>8}{'times':>8}"]
    for row in rows:
        asked = "" if row.asked_p99_ms is None else f"{row.asked_p99_ms:g}"
        lines.append(
            f"{row.what:46}{row.median_ms:9.2f}{row.asked_ms:8g}{row.p99_ms:9.2f}{asked:>8}{len(row.times):8d}"
        )
    return "\n".join(lines)


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks")
    parser.add_argument("--counts", type=int, help="do everything only so often")
    count = parser.parse_args().counts
    rows = measured(Counts() if count is None else Counts(count, count, count, count))
    rows += eddies(10 if count is None else count)
    rows += judging(10 if count is None else count)
    print(f"Milliseconds; Python {platform.python_version()}, {os.cpu_count()} cores, {os.environ['QT_QPA_PLATFORM']}")
    print(table(rows))


if __name__ == "__main__":
    main()
