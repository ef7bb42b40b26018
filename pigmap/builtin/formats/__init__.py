"""Files that outlines come in from."""
