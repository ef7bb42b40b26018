"""Run the command line as ``python -m pigmap``."""

from __future__ import annotations

import sys

from pigmap.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
