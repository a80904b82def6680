"""The search for a wall curve: goals, the numbers that are free, and the search itself."""
