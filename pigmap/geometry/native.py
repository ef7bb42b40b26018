"""Make the compiled map libraries use the data they brought themselves; called before each of their imports."""

from __future__ import annotations

import os
import sys
import warnings

FOREIGN = ("PROJ_LIB", "PROJ_DATA", "GDAL_DATA", "GDAL_DRIVER_PATH")
"""Variables with which other installations of the same libraries point at their own data."""

CACHE_BYTES = 64_000_000
"""What the image reader may keep in memory; the map has its own cache of tiles."""

_cleared: dict[str, str] = {}


def own_data() -> None:
    """Clear what points the libraries at the data of another installation.

    Each wheel brings the data that fits it; those of another version make it fail with a missing table.
    Call it right before ``import rasterio``, ``pyproj`` or ``pyogrio``, inside the function that needs them.
    """
    for name in FOREIGN:
        value = os.environ.pop(name, None)
        if value is not None:
            _cleared[name] = value
    os.environ.setdefault("GDAL_CACHEMAX", str(CACHE_BYTES))
    if "rasterio" not in sys.modules:
        # The vetting says the same in words that help.
        warnings.filterwarnings("ignore", message="Dataset has no geotransform", category=UserWarning)


def cleared() -> dict[str, str]:
    """Return the variables that were cleared in this process, and what they held."""
    return dict(_cleared)
