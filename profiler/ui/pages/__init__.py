"""The pages of the window beside the Shape page."""
