"""Daily weather and what the ground feels of it."""
