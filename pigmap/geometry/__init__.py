"""Shapes in metres: rectangles of nets, snapping, runs, cells, projection."""
