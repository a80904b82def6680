"""Formulas the program does not need but its tests do: second ways to a number, inverses, closed forms."""
