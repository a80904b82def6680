"""The neutral sheet: a drawing as numbers, in millimetres on paper, ready to be written as DXF, PDF, SVG or PNG."""
