"""What every page of the window is; each page has a folder of its own."""
