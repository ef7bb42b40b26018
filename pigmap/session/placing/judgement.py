"""What is known about a paddock before it is placed."""

from __future__ import annotations

from datetime import date

from pigmap.fence.fitted import Spare
from pigmap.geometry.runs import Run
from pigmap.records.frozen import dataclass
from pigmap.text import Text


@dataclass(frozen=True, slots=True)
class PlacingWarning:
    """One thing that is against a place, or wants care there."""

    text: Text
    """What is wrong: 'The east side touches the pond. Keep 6 m off.'"""
    remedy: Text
    """What puts it right: 'Set it 2 posts west.'"""
    hard: bool = False
    """Whether it cannot be overridden with a reason."""
    spot: tuple[float, float] | None = None
    """Where it is wrong, east and north [grid m]."""
    care: bool = False
    """Whether it only wants care: the place itself is not refused."""
    reasons: tuple[Text, ...] = ()
    """Ready reasons with which it may be placed all the same."""


@dataclass(frozen=True, slots=True, eq=False)
class Judgement:
    """The figures of a paddock where it would be placed, and what is against it."""

    nets_to_carry: int
    """Whole nets for all sides that nothing closes yet."""
    nets_to_leave: int
    """Nets of standing paddocks that must stay up, since this one uses them too."""
    spare_nets: int | None
    """Sound nets of the kind that do not stand on that day; None where no net of the kind is entered."""
    area_m2: float
    """Ground inside [m² of ground]."""
    field_uid: str | None
    """The field that most of it lies in."""
    outside_share: float
    """Share of it that lies outside every field, 0 to 1."""
    keep_out_share: float
    """Share of it that lies in keep-outs with their net distance, 0 to 1."""
    open_runs: tuple[Run, ...]
    shared_runs: tuple[Run, ...]
    """The sides, or parts of sides, that both this paddock and one that stands use."""
    leaning_runs: tuple[Run, ...]
    """The sides, or parts of sides, that permanent fences close."""
    rest_least_days: int | None
    """Least rest of the used ground under it [d]; -1 if no use of it is known, None where nothing is computed."""
    rest_mean_days: float | None
    """Mean rest of the used ground under it [d]."""
    never_used_share: float | None
    """Share of it that was never used, as someone said, 0 to 1."""
    unknown_share: float | None
    """Share of it of which nobody knows whether it was used, 0 to 1."""
    rooting: float | None
    """Share of the ground under it that is turned over or bare, 0 to 1."""
    seen_on: date | None
    """Day of the last daily check that still counts for some of it."""
    warnings: tuple[PlacingWarning, ...]
    nets_of_kinds: tuple[Spare, ...] = ()
    """The nets to carry, where those of its sides are of more than one kind."""

    @property
    def fits(self) -> bool:
        """Whether nothing is against the place."""
        return all(warning.care for warning in self.warnings)

    @property
    def hard(self) -> bool:
        """Whether something is against it that no reason overrides."""
        return any(warning.hard for warning in self.warnings)
