from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
import shapely

from pigmap.animals.weight import live_weight
from pigmap.errors import StoreError
from pigmap.fence.books import Books
from pigmap.geometry.runs import shared_runs
from pigmap.ground import prepare
from pigmap.records import TABLES, Farm, GroundJobKind, NetCondition, Stay, StayState
from pigmap.session import Session
from pigmap.session.sample import SamplePaths, sample_farm, write_sample
from pigmap.session.sample.timeline import visits

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def farm() -> Farm:
    return sample_farm(TODAY)


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> SamplePaths:
    return write_sample(tmp_path_factory.mktemp("sample") / "made", today=TODAY)


def _stays(farm: Farm, name: str) -> list[Stay]:
    uid = next(group.uid for group in farm.groups.values() if group.name == name)
    return sorted((stay for stay in farm.stays.values() if stay.group_uid == uid), key=lambda stay: stay.in_on)


def _ground_m2(farm: Farm, shape: shapely.Polygon | shapely.MultiPolygon) -> float:
    return float(shape.area) * farm.projection.ground_per_grid**2


def test_it_is_called_invented_in_its_own_note(farm: Farm) -> None:
    assert str(farm.setting("note")).startswith("An invented farm")
    assert farm.setting("sample") is True


def test_four_fields_make_about_forty_hectares(farm: Farm) -> None:
    assert {field.ground_cover.value for field in farm.fields.values()} == {"pasture", "ley", "woodland"}
    assert len(farm.fields) == 4
    assert sum(_ground_m2(farm, field.outline) for field in farm.fields.values()) / 1e4 == pytest.approx(40, abs=2)


def test_one_field_is_an_l(farm: Farm) -> None:
    (bent,) = (field for field in farm.fields.values() if field.name == "Pond Field")
    assert bent.outline.area < 0.85 * bent.outline.minimum_rotated_rectangle.area


def test_the_pond_keeps_nets_six_metres_off(farm: Farm) -> None:
    (pond,) = (row for row in farm.keep_outs.values() if row.reason == "pond")
    assert pond.net_m == 6.0
    near = shapely.buffer(pond.shape, 6.0 / farm.projection.ground_per_grid)
    assert not [paddock.name for paddock in farm.paddocks.values() if paddock.outline.intersection(near).area > 0.1]


def test_grid_metres_are_shorter_than_ground_metres_by_what_the_projection_says(farm: Farm) -> None:
    # UTM: k = 0.9996 (1 + x²/2R²), 69 km off the middle of the zone (from memory; checked by hand): 0.99966.
    assert farm.projection.ground_per_grid == pytest.approx(1 / 0.99966, abs=2e-5)
    (first, *_) = (paddock for paddock in farm.paddocks.values() if paddock.nets_long == 1)
    assert first.outline.length * farm.projection.ground_per_grid == pytest.approx(200.0, abs=1e-6)


def test_every_stay_uses_the_outline_of_its_paddock_and_lies_in_its_field(farm: Farm) -> None:
    for stay in farm.stays.values():
        paddock = farm.paddocks[stay.paddock_uid]
        assert stay.ground.equals(paddock.outline)
        assert farm.fields[paddock.field_uid or ""].outline.contains(stay.ground)


@pytest.mark.parametrize("name", ["Dry sows", "Weaners", "Porkers"])
def test_each_group_has_one_running_stay_and_some_planned(farm: Farm, name: str) -> None:
    stays = _stays(farm, name)
    assert [stay.covers(TODAY) for stay in stays if stay.state is StayState.RUNNING] == [True]
    assert len([stay for stay in stays if stay.state is StayState.PLANNED]) >= 4
    for earlier, later in pairwise(stays):
        assert earlier.out_on is not None
        assert earlier.out_on <= later.in_on


def test_stays_reach_two_years_back_and_some_weeks_on(farm: Farm) -> None:
    days = [stay.in_on for stay in farm.stays.values()]
    assert min(days) == TODAY - timedelta(days=730)
    assert TODAY + timedelta(days=25) < max(days) < TODAY + timedelta(days=60)


def test_most_moves_of_the_sows_share_a_side(farm: Farm) -> None:
    shared = [
        sum(run.length_mm for run in shared_runs(later.ground, [earlier.ground], farm.projection.ground_per_grid))
        for earlier, later in pairwise(_stays(farm, "Dry sows"))
    ]
    assert sum(length == 50_000 for length in shared) > 0.95 * len(shared)


def test_the_ground_has_every_class_of_rest(farm: Farm) -> None:
    last: dict[str, date] = {}
    for stay in farm.stays.values():
        if stay.state is not StayState.PLANNED and stay.out_on is not None:
            last[stay.paddock_uid] = max(last.get(stay.paddock_uid, date.min), stay.out_on)
    rest = [(TODAY - day).days for day in last.values()]
    for least, most in ((0, 7), (7, 21), (21, 42), (42, 70), (70, 105), (105, 10_000)):
        assert any(least <= days < most for days in rest), f"{least} to {most} days"


def test_weights_are_those_of_sows_weaners_and_porkers(farm: Farm) -> None:
    weights = {group.name: live_weight(farm, group.uid, TODAY) for group in farm.groups.values()}
    assert {name: weight.pigs for name, weight in weights.items()} == {"Dry sows": 8, "Weaners": 24, "Porkers": 16}
    assert 180 < weights["Dry sows"].mean_kg < 240
    assert 12 < weights["Weaners"].mean_kg < 30
    assert 40 < weights["Porkers"].mean_kg < 110


def test_twelve_of_seventeen_blue_nets_stand_and_one_is_in_repair(farm: Farm) -> None:
    (blue,) = (kind for kind in farm.net_kinds.values() if kind.tape == "blue")
    owned = [net for net in farm.nets.values() if net.net_kind_uid == blue.uid]
    assert (len(owned), sum(net.condition is NetCondition.DAMAGED for net in owned)) == (17, 1)
    standing = [use for use in farm.net_uses.values() if use.taken_on is None]
    assert len(standing) == 12
    assert {use.net_kind_uid for use in standing} == {blue.uid}
    assert (blue.length_m, blue.posts) == (50.0, 15)


def test_stays_and_what_is_written_down_of_nets_tell_the_same_number(farm: Farm) -> None:
    (blue,) = (kind for kind in farm.net_kinds.values() if kind.tape == "blue")
    for back in (0, 1, 30, 200):
        day = TODAY - timedelta(days=back)
        written_down = [
            use
            for use in farm.net_uses.values()
            if use.net_kind_uid == blue.uid and use.set_on <= day and (use.taken_on is None or day < use.taken_on)
        ]
        assert Books(farm, TODAY).counts(day)[blue.uid] == len(written_down)


def test_nets_are_as_long_as_the_side_they_stand_on(farm: Farm) -> None:
    for use in farm.net_uses.values():
        kind = farm.net_kinds[use.net_kind_uid]
        assert use.run.length * farm.projection.ground_per_grid == pytest.approx(kind.length_m, abs=1e-6)


def test_checks_read_what_testers_and_eyes_read(farm: Farm) -> None:
    checks = list(farm.checks.values())
    assert max(check.checked_on for check in checks) == TODAY
    assert {check.rooting_score for check in checks} >= {0, 1, 2, 3, None}
    assert all(check.fence_kv is not None and 2.0 <= check.fence_kv <= 9.0 for check in checks)
    for check in checks:
        assert any(
            stay.paddock_uid == check.paddock_uid
            and stay.group_uid == check.group_uid
            and stay.covers(check.checked_on)
            for stay in farm.stays.values()
        )


def test_the_weather_has_seasons_and_every_day(farm: Farm) -> None:
    days = sorted(farm.weather_days.values(), key=lambda each: each.day)
    assert [each.day for each in days] == [TODAY - timedelta(days=back) for back in range(730, 0, -1)]
    mean = {month: _mean_of(each.max_c for each in days if each.day.month == month) for month in (1, 7)}
    assert mean[7] > mean[1] + 8
    assert all(each.min_c is not None and each.max_c is not None and each.min_c < each.max_c for each in days)


def _mean_of(values: Iterator[float | None]) -> float:
    kept = [value for value in values if value is not None]
    return sum(kept) / len(kept)


def test_the_same_day_gives_the_same_farm(farm: Farm) -> None:
    again = sample_farm(TODAY)
    assert all(farm.rows(table) == again.rows(table) for table in TABLES)


def test_another_day_gives_a_farm_that_is_at_that_day() -> None:
    leap_day = date(2024, 2, 29)
    there = [visit.group for visit in visits(leap_day) if visit.in_on <= leap_day < visit.out_on]
    assert sorted(there) == ["Dry sows", "Porkers", "Weaners"]


def test_what_is_written_reads_back_as_the_same_rows(farm: Farm, written: SamplePaths) -> None:
    with Session.open(written.farm) as session:
        for table in TABLES:
            told = {uid: row for uid, row in session.farm.rows(table).items() if getattr(row, "key", "") != "farm name"}
            made = {uid: row for uid, row in farm.rows(table).items() if getattr(row, "key", "") != "farm name"}
            assert told.keys() == made.keys(), table
            assert all(told[uid] == made[uid] for uid in made), table
        assert session.farm.name == "Ridge Farm"


def test_its_history_reads_like_a_persons(written: SamplePaths) -> None:
    with Session.open(written.farm) as session:
        labels = [str(entry.label) for entry in session.history()]
        assert session.undo_label is None, "undo would take apart a farm that someone has only just opened"
        assert {(entry.made_by, entry.computer) for entry in session.history()} == {("pigmap sample", "")}
    assert "Fields drawn." in labels
    assert "Summer 2025 written up." in labels
    assert len(labels) < 30


def test_the_image_covers_the_farm_in_its_own_projection(farm: Farm, written: SamplePaths) -> None:
    import rasterio

    with rasterio.open(written.image) as image:
        assert image.crs.to_epsg() == farm.projection.code
        assert image.res[0] * farm.projection.ground_per_grid == pytest.approx(0.2)
        assert image.overviews(1) == [2, 4, 8, 16]
        assert image.profile["compress"] == "jpeg"
        fields = shapely.union_all([field.outline for field in farm.fields.values()])
        assert shapely.box(*image.bounds).contains(fields)
    (linked,) = farm.images.values()
    assert linked.link == written.image.name


def test_all_of_it_is_small(written: SamplePaths) -> None:
    assert written.image.stat().st_size < 8_000_000
    assert sum(path.stat().st_size for path in written) < 10_000_000


def test_the_weather_file_has_a_line_for_each_day(written: SamplePaths) -> None:
    lines = written.weather.read_text(encoding="utf-8").splitlines()
    assert lines[0] == "day,rain_mm,min_c,max_c"
    assert len(lines) == 731


def test_a_sample_that_someone_may_have_worked_on_is_not_overwritten(written: SamplePaths) -> None:
    before = written.farm.stat().st_mtime_ns
    with pytest.raises(StoreError) as caught:
        write_sample(written.farm.parent, today=TODAY)
    assert "already holds sample-farm.gpkg" in str(caught.value.message)
    assert str(caught.value.remedy) == "Choose another folder, or move that file away first."
    assert written.farm.stat().st_mtime_ns == before


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(StoreError) as caught:
        write_sample(tmp_path / "file" / "sample", today=TODAY)
    assert "cannot be written into" in str(caught.value.message)
    assert "Not a directory" in str(caught.value.message)
    assert "Choose a folder that you may write to" in str(caught.value.remedy)


SAMPLE_DATA = Path(__file__).resolve().parents[2] / "sample_data"


def test_the_sample_that_is_kept_as_files_is_the_one_that_is_made(farm: Farm, tmp_path: Path) -> None:
    copy = tmp_path / "sample-farm.gpkg"
    copy.write_bytes((SAMPLE_DATA / "sample-farm.gpkg").read_bytes())
    with Session.open(copy) as session:
        assert session.farm.stays == farm.stays
        assert session.farm.fields == farm.fields
    assert sum(path.stat().st_size for path in SAMPLE_DATA.iterdir()) < 10_000_000


def test_the_sample_that_is_kept_as_files_is_called_invented() -> None:
    assert "All of it is invented" in (SAMPLE_DATA / "README.md").read_text(encoding="utf-8")


def test_what_was_before_is_told_of_all_ground_and_lies_over_no_paddock(farm: Farm) -> None:
    jobs = sorted(farm.ground_jobs.values(), key=lambda job: job.position)
    assert [job.kind for job in jobs] == [*[GroundJobKind.NEVER_USED] * 4, "used before", "unknown"]
    paddocks = shapely.union_all([paddock.outline for paddock in farm.paddocks.values()])
    begin = min(stay.in_on for stay in farm.stays.values())
    for job in jobs[4:]:
        assert job.shape.area > 1000
        assert job.shape.intersection(paddocks).area < 1.0
        assert job.happened_on is None or job.happened_on < begin
    for field in farm.fields.values():
        state = prepare(farm, field.uid).on(TODAY)
        assert state.by_field is not None
        assert (state.by_field.unknown > 0) == (field.name == "Bank Wood")


@pytest.mark.parametrize("today", [date(2024, 2, 29), date(2026, 10, 1), date(2027, 1, 3)])
def test_the_use_before_lies_before_the_records_on_any_day(today: date) -> None:
    farm = sample_farm(today)
    (used,) = (job for job in farm.ground_jobs.values() if job.kind is GroundJobKind.USED_BEFORE)
    assert used.happened_on is not None
    assert 0 < (today - timedelta(days=730) - used.happened_on).days < 400


def test_the_image_shows_bare_soil_where_pigs_left_last_and_less_of_it_where_they_left_long_ago(
    farm: Farm, written: SamplePaths
) -> None:
    import rasterio
    from rasterio.mask import mask

    past = [stay for stay in _stays(farm, "Dry sows") if stay.state is StayState.PAST]
    last, old = past[-1], next(stay for stay in past if stay.out_on is not None and (TODAY - stay.out_on).days > 400)
    greener = []
    with rasterio.open(written.image) as image:
        for stay in (last, old):
            pixels, _ = mask(image, [stay.ground.buffer(-5)], crop=True)
            red, green, _ = pixels[:, pixels.any(axis=0)].astype(float)
            greener.append(float((green > red).mean()))
    assert greener[0] < 0.8 < greener[1]


def test_the_books_are_kept_and_called_invented(farm: Farm) -> None:
    tables = ("treatments", "litters", "escapes", "slaughter_bookings", "register_entries")
    for table in tables:
        rows = farm.rows(table).values()
        assert rows
        assert {getattr(row, "note", "") for row in rows} == {"Invented."}
    (holding,) = (row for row in farm.treatments.values() if row.clear_on is not None and row.clear_on > TODAY)
    assert farm.groups[holding.group_uid].name == "Weaners"
    assert [row.sow for row in farm.litters.values() if row.farrowed_on is None] == ["Berta"]
    coming = [row for row in farm.slaughter_bookings.values() if row.gone is None]
    assert sum(row.pigs or 0 for row in coming) == live_weight(farm, coming[0].group_uid or "", TODAY).pigs
    went = {row.uid for row in farm.slaughter_bookings.values() if row.gone}
    assert went == {row.booking_uid for row in farm.register_entries.values() if row.booking_uid}
