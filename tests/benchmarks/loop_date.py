"""Step through the days of a farm of 500,000 cells and 5,000 stays; time the ground alone and shown."""

from __future__ import annotations

import json
import sys
from datetime import timedelta
from typing import cast

from PySide6.QtCore import QCoreApplication, QEvent

from pigmap.builtin.tints.rest_and_rooting import tint
from pigmap.drawing.scene import map_layers
from pigmap.ground import prepare
from pigmap.plugins import Registry
from pigmap.qt.field_tint import field_cells
from pigmap.qt.ground_view import GroundView
from pigmap.qt.stage import Stage
from pigmap.qt.starting import application
from pigmap.records import Farm
from pigmap.session import Session
from tests.benchmarks.ground_case import FIELD_UID, FIRST_DAY, big_ground
from tests.benchmarks.sticks import Spent, Watch, blit_ms, note_of, quantile, walls


class OnlyShown:
    """As much of a session as a view of the ground needs."""

    def __init__(self, farm: Farm) -> None:
        self.farm = farm
        self.registry = Registry([])


def main(count: str) -> None:
    """Measure and print."""
    application()
    farm = big_ground(1, snapped=True)
    ground = prepare(farm, FIELD_UID)
    cursor = ground.cursor()
    view = GroundView(Stage(cast("Session", OnlyShown(farm)), FIRST_DAY))
    view.resize(1920, 1080)
    day = FIRST_DAY + timedelta(days=900)
    field = farm.fields[FIELD_UID]
    cells = field_cells(field, cursor.move_to(day), tint, computed=False)
    view.show_layers(map_layers(farm, day, [cells]))
    west, south, east, north = field.outline.bounds
    view.look_at((west, south, east, north))
    view.show()
    QCoreApplication.processEvents()
    view.settle()
    model: list[Spent] = []
    shown: list[Spent] = []
    for step in range(int(count)):
        day += timedelta(days=1 if step // 100 % 2 == 0 else -1)
        watch = Watch()
        state = cursor.move_to(day)
        model.append(watch.spent())
        view.show_cells([field_cells(field, state, tint, computed=False, clods=False)])
        QCoreApplication.sendPostedEvents(view, QEvent.Type.UpdateRequest)  # the paint that it asked for
        shown.append(watch.spent())
        QCoreApplication.processEvents()
    view.close_down()
    floor = quantile(blit_ms(), 0.5)
    figures = {
        "date-model": {"value": quantile(walls(model), 0.95), "note": note_of(model)},
        "date-shown": {
            "value": quantile(walls(shown), 0.95),
            "ratio": quantile(walls(shown), 0.5) / floor,
            "stick": "a blit of 1920 by 1080 pixels, at half of the steps",
            "note": f"{note_of(shown)}; clods and lines follow when the drag rests",
        },
    }
    print(json.dumps(figures))


if __name__ == "__main__":
    main(*sys.argv[1:])
