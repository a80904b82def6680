"""Friction from what was measured in a bowl that ran."""
