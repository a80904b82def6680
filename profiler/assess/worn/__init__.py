"""Measured profiles laid over the drawing, what they say of wear, and the worn bowl as a design."""
