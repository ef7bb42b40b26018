"""The command ``plugins``: what is built in, what plugins added, and what of them cannot be used."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from contextlib import suppress

from pigmap.cli.printing import Row, add_json, say, table
from pigmap.errors import PluginError
from pigmap.plugins import KINDS, Fault, Part, Registry
from pigmap.text import Text

COLUMNS = ("kind", "name", "from")


class PluginsCommand:
    """Lists the contributed parts; those of plugins are loaded to see whether they can be used."""

    api = 1
    name = "plugins"
    summary = "lists what is built in, what plugins added, and faults of plugins"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare JSON."""
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """List them; a fault of a plugin is shown and changes no status."""
        parts = [part for kind in KINDS for part in registry.parts(kind)]
        faults = list(_faults(registry, parts))
        if given.json:
            listed = {"parts": [_row(part) for part in parts], "faults": [_fault_row(fault) for fault in faults]}
            say(json.dumps(listed, ensure_ascii=False, indent=2))
            return 0
        say(table(COLUMNS, [_row(part) for part in parts]).rstrip("\n"))
        say("")
        say(Text("{count} fault of plugins.", plural="{count} faults of plugins.", count=len(faults)))
        for fault in faults:
            say(f"  {fault.reason}")
        return 0


def _faults(registry: Registry, parts: list[Part]) -> Iterator[Fault]:
    for part in parts:
        if not part.built_in:
            with suppress(PluginError):  # the registry keeps it among the faults
                registry.load(part.kind, part.name)
    yield from registry.faults


def _row(part: Part) -> Row:
    return {"kind": part.kind, "name": part.name, "from": "built in" if part.built_in else part.shipper}


def _fault_row(fault: Fault) -> dict[str, str]:
    part = fault.part
    return {"kind": part.kind, "name": part.name, "from": part.shipper, "reason": str(fault.reason)}


command = PluginsCommand()
