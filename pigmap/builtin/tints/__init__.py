"""Ways to colour the ground."""
