"""The sample farm on disk: its farm file, its aerial image and its weather."""

from __future__ import annotations

import os
import tempfile
from datetime import date
from pathlib import Path
from typing import NamedTuple

from pigmap.errors import StoreError
from pigmap.session.sample.aerial import write_image
from pigmap.session.sample.site import Site, projection
from pigmap.session.sample.story import FARM_NAME, IMAGE_FILE, story
from pigmap.session.sample.weather import as_csv, weather_days
from pigmap.session.session import Session

FARM_FILE = "sample-farm.gpkg"
WEATHER_FILE = "weather.csv"
MADE_BY = "pigmap sample"
"""Stands in its history in place of a person: the farm is invented, and the same on every computer."""


class SamplePaths(NamedTuple):
    """Where the parts of the sample farm lie."""

    farm: Path
    image: Path
    weather: Path


def write_sample(folder: Path, *, today: date, replace: bool = False) -> SamplePaths:
    """Write the sample farm into a folder and return where its parts lie.

    Parameters
    ----------
    folder
        Made if it is not there.
    today
        The day the farm is at: records end on it, plans begin after it.
    replace
        Whether files of these names that are there already may go.

    Raises
    ------
    StoreError
        If the folder cannot be written to, or holds a sample farm and `replace` is not set.
    """
    paths = SamplePaths(folder / FARM_FILE, folder / IMAGE_FILE, folder / WEATHER_FILE)
    taken = next((path for path in paths if path.exists()), None)
    if taken is not None and not replace:
        raise StoreError(
            "{folder} already holds {name}, and someone may have worked on it.",
            remedy="Choose another folder, or move that file away first.",
            folder=str(folder),
            name=taken.name,
        )
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".sample-", dir=folder) as made:
            _write_parts(SamplePaths(*(Path(made) / path.name for path in paths)), today)
            for path in reversed(paths):  # the farm last: where it is, the others are
                os.replace(Path(made) / path.name, path)
    except OSError as reason:
        if isinstance(reason, StoreError):
            raise
        raise StoreError(
            "The sample farm cannot be written into {folder}: {why}.",
            remedy="Choose a folder that you may write to, on a disk with 20 MB free.",
            folder=str(folder),
            why=reason.strerror or str(reason),
        ) from reason
    return paths


def _write_parts(paths: SamplePaths, today: date) -> None:
    site = Site(projection())
    write_image(paths.image, site, today)
    paths.weather.write_text(as_csv(weather_days(today)), encoding="utf-8")
    with Session.create(paths.farm, site.projection, FARM_NAME, made_by=MADE_BY) as session:
        for edit in story(site, today):
            session.do(edit).result()
