"""Pastured pigs on the map: paddocks of whole nets, the rest of the ground, moves and printed field maps."""

__version__ = "0.1.0.dev0"
