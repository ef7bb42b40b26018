"""What happens to the ground: rest, rooting and cover, load, and when it is ready again, cell by cell."""

from __future__ import annotations

from pigmap.ground.field_ground import FieldGround, Stopped, prepare
from pigmap.ground.known import Known
from pigmap.ground.state import GroundState
from pigmap.ground.under import Under

__all__ = ["FieldGround", "GroundState", "Known", "Stopped", "Under", "prepare"]
