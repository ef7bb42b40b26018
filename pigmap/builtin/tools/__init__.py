"""Verbs on the map."""
