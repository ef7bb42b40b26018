"""Pages as data."""
