"""What to draw, without drawing it."""
