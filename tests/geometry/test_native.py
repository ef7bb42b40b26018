from __future__ import annotations

import ast
from pathlib import Path

import pigmap

HEAVY = ("rasterio", "pyproj", "pyogrio")


def imports(tree: ast.AST) -> set[str]:
    names = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    return names | {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}


def test_no_module_loads_a_map_library_when_it_is_loaded_itself() -> None:
    """They would load before the first frame of the window."""
    found = []
    for path in Path(pigmap.__file__).parent.rglob("*.py"):
        for statement in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(statement, ast.Import | ast.ImportFrom) and any(
                name.split(".")[0] in HEAVY for name in imports(statement)
            ):
                found.append(path.name)
    assert found == []
