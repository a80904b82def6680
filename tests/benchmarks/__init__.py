"""How long the program takes: `python -m tests.benchmarks` prints one table. No test passes or fails by it."""
