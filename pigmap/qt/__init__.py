"""The window; the first ring that may import Qt."""
