"""Step through the days of a large farm, and jump about in them; time the ground alone and shown on the map."""

from __future__ import annotations

import json
import sys
from datetime import date, timedelta
from typing import NamedTuple, cast

import numpy as np
from PySide6.QtCore import QCoreApplication, QEvent

from pigmap.builtin.tints.rest_and_rooting import tint
from pigmap.drawing.scene import map_layers
from pigmap.ground import prepare
from pigmap.ground.cursor import Cursor
from pigmap.qt.field_tint import field_cells
from pigmap.qt.ground_view import GroundView
from pigmap.qt.stage import Stage
from pigmap.qt.starting import application
from pigmap.records import Farm
from tests.benchmarks.ground_case import FIELD_UID, FIRST_DAY, STAYS, big_ground
from tests.benchmarks.ground_prepared import LAYERS
from tests.benchmarks.loop_date import OnlyShown
from tests.benchmarks.sticks import Spent, Watch, blit_ms, note_of, quantile, walls

FROM = FIRST_DAY + timedelta(days=400)
SPAN_DAYS = 1400


class Case(NamedTuple):
    """A farm, and whether clods are drawn with every day."""

    snapped: bool
    stays: int
    step_m: float
    clods: bool


CASES = {
    "half-nets": Case(snapped=True, stays=STAYS, step_m=25.0, clods=False),
    "clods": Case(snapped=True, stays=2500, step_m=8.0, clods=True),
    "clods-turned": Case(snapped=False, stays=2050, step_m=0.0, clods=True),
}


class Shown:
    """The map of a case, on days that are asked for."""

    def __init__(self, case: Case) -> None:
        self.farm: Farm = big_ground(1, case.snapped, case.stays, case.step_m)
        ground = prepare(self.farm, FIELD_UID)
        self.regions, self.clods = ground.regions, case.clods
        self._cursor: Cursor = ground.cursor()
        self._field = self.farm.fields[FIELD_UID]
        self.view = GroundView(Stage(cast("object", OnlyShown(self.farm)), FROM))  # type: ignore[arg-type]
        self.view.resize(1920, 1080)
        cells = field_cells(self._field, self._cursor.move_to(FROM), tint, computed=False, clods=case.clods)
        self.view.show_layers(map_layers(self.farm, FROM, [cells]))
        west, south, east, north = self._field.outline.bounds
        self.view.look_at((west, south, east, north))
        self.view.show()
        QCoreApplication.processEvents()
        self.view.settle()

    def on(self, day: date) -> tuple[Spent, Spent]:
        """Show a day; return what its six layers took, and all of it until it is painted."""
        watch = Watch()
        state = self._cursor.move_to(day)
        for name in LAYERS:
            state.layers[name]
        model = watch.spent()
        self.view.show_cells([field_cells(self._field, state, tint, computed=False, clods=self.clods)])
        QCoreApplication.sendPostedEvents(self.view, QEvent.Type.UpdateRequest)  # the paint that it asked for
        shown = watch.spent()
        QCoreApplication.processEvents()
        return model, shown


def figures_of(name: str, spent: list[Spent], floor_ms: float) -> dict[str, dict[str, object]]:
    """Return the figures of some steps: 95 of 100 by the clock, and by the processor."""
    stick = {"ratio": quantile(walls(spent), 0.5) / floor_ms, "stick": "a blit of 1920 by 1080 pixels, at half of them"}
    return {
        name: {"value": quantile(walls(spent), 0.95), "note": note_of(spent), **stick},
        f"{name}-processor": {"value": quantile([each.cpu for each in spent], 0.95)},
    }


def main(case: str, count: str) -> None:
    """Measure and print."""
    application()
    shown, rng = Shown(CASES[case]), np.random.default_rng(3)
    steps = [shown.on(FROM + timedelta(days=day % SPAN_DAYS)) for day in range(int(count))][3:]
    floor = quantile(blit_ms(), 0.5)
    if case == "half-nets":
        jumps = [shown.on(FROM + timedelta(days=int(rng.integers(0, SPAN_DAYS)))) for _ in range(int(count))]
        figures = figures_of("model", [model for model, _ in steps], floor)
        figures |= figures_of("shown", [each for _, each in steps], floor)
        figures |= figures_of("jump", [each for _, each in jumps], floor)
    else:
        figures = figures_of(case, [each for _, each in steps], floor)
        figures[case]["note"] = f"{shown.regions} regions; {figures[case]['note']}"
    shown.view.close_down()
    sys.stdout.write(f"{json.dumps(figures)}\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
