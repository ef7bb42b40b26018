"""A person's own choices, which belong to the computer and not to a farm."""

from __future__ import annotations

import json
import os
from contextlib import suppress
from dataclasses import asdict, fields, replace
from pathlib import Path
from typing import Any, Literal, get_args

from pigmap.paths import data_folder
from pigmap.records.frozen import dataclass

Theme = Literal["system", "light", "dark", "bright"]
Motion = Literal["full", "none"]

TILES_MB, KEPT_MB = (64, 4096), (250, 1_000_000)
"""The least and the most that can be chosen."""
LEAST_TEXT_PT, MOST_TEXT_PT = 7.0, 24.0
MOST_FARMS = 5
"""Farms that are remembered."""


@dataclass(frozen=True, slots=True)
class Personal:
    """What a person chose; a value that is not known here falls back to its default."""

    last_farm: str = ""
    """Absolute path of the farm that was open last."""
    farms: tuple[str, ...] = ()
    """Absolute paths of the farms that were open, the last first."""
    theme: Theme = "system"
    """The computer's own way, unless one was chosen."""
    text_pt: float | None = None
    """Size of text on the screen in points; None leaves it to the computer."""
    sample_plate_closed: bool = False
    """The plate that tells of the sample farm was put away for good."""
    language: str = ""
    """Language and country, such as en_GB; empty leaves it to the computer."""
    letters: bool = True
    """Single letters do what the verbs' buttons do."""
    motion: Motion = "full"
    """Whether what changes on the screen moves to where it is, or is there at once."""

    tiles_mb: int = 256
    """Memory for pieces of aerial images while a map is open [MB]."""
    kept_mb: int = 4000
    """Disk for pieces of slow aerial images [MB]."""
    kept_folder: str = ""
    """Where these are kept; empty leaves it to the computer."""

    def with_farm(self, path: str) -> Personal:
        """Return the choices after a farm was opened."""
        farms = (path, *(each for each in self.farms if each != path))[:MOST_FARMS]
        return replace(self, last_farm=path, farms=farms)


def load_personal() -> Personal:
    """Return the saved choices; what is missing or damaged counts as not chosen, and never stops the program."""
    try:
        saved = json.loads(_file().read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return Personal()
    if not isinstance(saved, dict):
        return Personal()
    known = {each.name for each in fields(Personal)}
    kept: dict[str, Any] = {name: value for name, value in saved.items() if name in known and _fits(name, value)}
    kept["farms"] = tuple(kept.get("farms", ()))
    if saved.get("glide") is False:  # what the choice was called before
        kept.setdefault("motion", "none")
    return Personal(**kept)


def save_personal(personal: Personal) -> bool:
    """Save the choices, whole or not at all; whether it could be done."""
    file = _file()
    part = file.with_name(f"{file.name}.{os.getpid()}.part")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(json.dumps(asdict(personal), ensure_ascii=False, indent=1), encoding="utf-8")
        part.replace(file)
    except OSError:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        return False
    return True


def _fits(name: str, value: Any) -> bool:
    match name:
        case "theme" | "motion":
            return value in get_args(Theme if name == "theme" else Motion)
        case "text_pt":
            is_number = isinstance(value, (int, float)) and not isinstance(value, bool)
            return value is None or (is_number and LEAST_TEXT_PT <= value <= MOST_TEXT_PT)
        case "sample_plate_closed" | "letters":
            return isinstance(value, bool)
        case "tiles_mb" | "kept_mb":
            least, most = TILES_MB if name == "tiles_mb" else KEPT_MB
            return isinstance(value, int) and not isinstance(value, bool) and least <= value <= most
        case "farms":
            return isinstance(value, list) and all(isinstance(each, str) for each in value)
    return isinstance(value, str)


def _file() -> Path:
    return data_folder() / "personal.json"
