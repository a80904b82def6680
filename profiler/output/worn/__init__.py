"""What is told of measured and worn profiles: as blocks for terminal and report, as one JSON object."""
