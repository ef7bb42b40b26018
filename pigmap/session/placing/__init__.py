"""What stands beside a paddock that is being placed: its figures, what is against it, and the remedy."""

from __future__ import annotations

from pigmap.session.placing.ground import PlacingGround
from pigmap.session.placing.judge import judge
from pigmap.session.placing.judgement import Judgement, PlacingWarning
from pigmap.session.placing.reasons import LONGEST as LONGEST_REASON

__all__ = ["LONGEST_REASON", "Judgement", "PlacingGround", "PlacingWarning", "judge"]
