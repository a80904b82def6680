"""The envelope of a machine read from a drawing: a dialog with the drawing as a picture."""
