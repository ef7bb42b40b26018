"""What people do to ground between stays: sowing, harrowing, hay, other stock, manure; and what follows from it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.ground.tables import SOWN_SHUT_DAYS
from pigmap.records import Farm, GroundJob, GroundJobKind
from pigmap.records.frozen import dataclass

_G_M2_PER_KG_HA = 0.1


@dataclass(frozen=True, slots=True)
class Work:
    """One piece of work of which somebody knows the day; days are ordinals (`date.toordinal`).

    Nothing is known of how much cover other stock takes, so that it only counts as use: rest begins after it. Harrowing
    leaves the cover as it was: on pugged pasture harrowing or rolling alone did nothing (abstract on renovation after
    pugging, New Zealand), only seed did. Mowing takes height and no cover.
    """

    job: GroundJob
    begin: int
    end: int
    """First day that is not part of it."""
    shut_until: int
    """First day on which pigs may come to it."""
    daily_n_g_m2: float
    """Nitrogen that each day of it brings [g/m²]."""

    @property
    def is_sown(self) -> bool:
        """Whether what grew there is gone, and something else was sown."""
        return self.job.kind is GroundJobKind.SEEDED

    @property
    def is_use(self) -> bool:
        """Whether animals were on the ground, so that its rest begins after them."""
        return self.job.kind is GroundJobKind.OTHER_STOCK


def work_on(farm: Farm) -> tuple[Work, ...]:
    """Return the work on a farm's ground in order of time; what has no day is left out."""
    jobs = (job for job in farm.ground_jobs.values() if not job.kind.tells_what_was)
    ordered = sorted((job for job in jobs if job.happened_on is not None), key=_order)
    return tuple(_work(job, job.happened_on) for job in ordered if job.happened_on is not None)


def _order(job: GroundJob) -> tuple[date, str]:
    return job.happened_on or date.min, job.uid


def _work(job: GroundJob, on: date) -> Work:
    begin, end = on.toordinal(), (job.until_on or on).toordinal() + 1
    nitrogen = (job.n_kg_ha or 0.0) * _G_M2_PER_KG_HA
    if job.kind is not GroundJobKind.SEEDED:
        return Work(job, begin, end, end, nitrogen / (end - begin))
    shut = end if job.until_on is not None else begin + SOWN_SHUT_DAYS
    return Work(job, begin, begin + 1, shut, nitrogen)


def days_of_work(works: Iterable[Work]) -> list[int]:
    """Return the first and last days of work, and those from which pigs may come."""
    return [day for each in works for day in (each.begin, each.end, each.shut_until)]
