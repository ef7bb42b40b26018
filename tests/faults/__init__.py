"""Faults that a farm file has to survive, many times over: ``python -m tests.faults [--full] [NAME]``."""
