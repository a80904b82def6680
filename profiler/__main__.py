"""`python -m profiler`: the same as the command `bowl-profiler`."""

import sys

from profiler.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
