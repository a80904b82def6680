"""The calculation report: one set of blocks, laid out on A4 pages or written as HTML."""
