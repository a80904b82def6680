"""Bowl Profiler: shape the inside of a spinning bowl and see where the slurry lies."""

__version__ = "0.2.0"
