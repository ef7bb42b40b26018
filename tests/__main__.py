"""Run every check of the project: ``python -m tests``. The exit status is that of the worst.

The tests run as two processes side by side: those of the built-in parts take about as long as all others.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import IO

ROOT = Path(__file__).resolve().parent.parent
BIN = Path(sys.executable).parent

PYTEST = [sys.executable, "-m", "pytest", "-q"]
CHECKS: dict[str, list[list[str]]] = {
    "lint": [[sys.executable, "-m", "ruff", "check", "."]],
    "layout": [[sys.executable, "-m", "ruff", "format", "--check", "."]],
    "types": [[sys.executable, "-m", "mypy"]],
    # Running it as a module ends 0 without checking anything (import-linter 2.17).
    "imports": [[str(BIN / "lint-imports"), "--no-logo"]],
    "tests": [[*PYTEST, "tests/builtin"], [*PYTEST, "--ignore=tests/builtin"]],
}
"""What is run for each; several commands side by side."""


def main(wanted: list[str]) -> int:
    """Run the checks that are named, or all; say which failed."""
    failed = []
    for name in wanted or list(CHECKS):
        print(f"== {name}", flush=True)
        began = time.monotonic()
        status = _status(CHECKS[name])
        print(f"== {name}: {'ok' if status == 0 else f'status {status}'}, {time.monotonic() - began:.0f} s", flush=True)
        if status:
            failed.append(name)
    if failed:
        print(f"Not in order: {', '.join(failed)}.")
    return 1 if failed else 0


def _status(commands: Sequence[Sequence[str]]) -> int:
    """Run commands side by side and return the worst status; what all but the first say is printed at the end."""
    with ExitStack() as files:
        others = []
        for command in commands[1:]:
            said = files.enter_context(tempfile.TemporaryFile())
            others.append((_begun(command, said), said))
        statuses = [subprocess.run(commands[0], cwd=ROOT, check=False).returncode]
        for process, said in others:
            statuses.append(process.wait())
            said.seek(0)
            sys.stdout.write(said.read().decode("utf-8", "replace"))
    return max(statuses, key=abs)


def _begun(command: Sequence[str], said: IO[bytes]) -> subprocess.Popen[bytes]:
    return subprocess.Popen(command, cwd=ROOT, stdout=said, stderr=subprocess.STDOUT)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
