"""The strips of the Shape page: canvases painted from display lists, on one height axis."""
