"""What of a farm is handed to other programs and to phones, as tables with shapes, and the files they go into."""

from __future__ import annotations

from pigmap.session.handing_out.choice import WHAT, Asked, handed
from pigmap.session.handing_out.write import SUFFIXES, hand_out, need_suffix, need_table

__all__ = ["SUFFIXES", "WHAT", "Asked", "hand_out", "handed", "need_suffix", "need_table"]
