"""Planners."""
