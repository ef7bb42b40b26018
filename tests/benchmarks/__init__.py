"""How fast the program is, measured against goals: ``python -m tests.benchmarks loop``. Never part of the tests."""
