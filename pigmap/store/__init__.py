"""The farm file."""
