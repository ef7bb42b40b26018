"""The farm's own choices."""

from __future__ import annotations

import json
from typing import Any, ClassVar

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_name
from pigmap.records.record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting(Record):
    """One choice that belongs to the farm and travels with its file.

    Keys in use: ``farm name``; ``note`` (a line about the farm); ``units`` (``metric`` or ``us``);
    ``ready cover`` (share of green at which ground is ready); ``seen days`` (for how long a daily check counts as
    seen); ``cover loss`` [m²/(kg·d)] and ``cover regrowth`` [1/(°C·d)] (how fast green goes and comes back);
    ``wood loss`` (how many times as fast it goes under trees);
    ``sample`` (true where the farm is the invented one); ``place`` (east and north of the place that was typed
    [grid m]); ``projection`` (only of a farm that was begun without a place and was given one later); ``guessed nets``
    (uids of paddocks whose nets follow from the length of their sides, and nobody counted them); ``sign spacing``,
    ``energizers apart`` and ``earths apart`` [m] (what a place asks for where it is not what is in print: the most
    between warning signs along a way, the least between fences of two energizers, and between earth stakes and any
    other earth); ``weather columns`` (which column of a file of weather holds which reading, by the names of all);
    ``nets a trip`` (how many nets one person carries at a time); ``photos beside`` (true where new photos are kept in
    a folder beside the file);
    ``columns of files`` (the same for other files that are taken in); ``manure source`` (whose figures of nitrogen
    count, a value of `pigmap.animals.manure.ManureSource`) and ``nitrogen cap`` (the most nitrogen that a hectare may
    get in a year [kg/ha]).
    """

    TABLE: ClassVar[str] = "settings"

    key: str
    value_json: str
    unit: str = ""

    def __post_init__(self) -> None:
        need_name("setting", self.key)
        json.loads(self.value_json)

    @property
    def value(self) -> Any:
        """The value, read from its JSON."""
        return json.loads(self.value_json)
