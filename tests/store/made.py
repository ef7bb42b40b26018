"""Rows for tests of the farm file: one of every table, pointing at each other, nothing of a real farm."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any

import shapely

from pigmap.records import (
    TABLES,
    Check,
    Direction,
    Edit,
    Energizer,
    EnergizerReading,
    Escape,
    Farm,
    Field,
    FlowLine,
    Forage,
    GearKind,
    GearPlace,
    GroundJob,
    GroundJobKind,
    Group,
    GroupEvent,
    GroupEventKind,
    Image,
    KeepOut,
    Litter,
    MoveDone,
    Net,
    NetKind,
    NetRepair,
    NetUse,
    OwnDays,
    Paddock,
    Photo,
    Place,
    PlaceKind,
    PowerSource,
    Projection,
    Purpose,
    Reason,
    Record,
    RegisterEntry,
    RowChange,
    Setting,
    SlaughterBooking,
    Soil,
    Stay,
    StayState,
    Terrain,
    Treatment,
    Use,
    Way,
    WayKind,
    WeatherDay,
    WeighedBy,
    add,
)
from pigmap.session import Session
from pigmap.text import Text

PROJECTION = Projection(
    name="ETRS89 / UTM zone 32N",
    authority="EPSG",
    code=25832,
    definition='PROJCS["ETRS89 / UTM zone 32N",GEOGCS["ETRS89",DATUM["European_Terrestrial_Reference_System_1989",'
    'SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],'
    'PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",9],'
    'PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],PARAMETER["false_northing",0],'
    'UNIT["metre",1],AUTHORITY["EPSG","25832"]]',
    ground_per_grid=1.0004,
)
SQUARE = shapely.box(100.1, 200.2, 150.3, 250.4)
FIELD = shapely.MultiPolygon(
    [shapely.Polygon([(0, 0), (400, 0), (400, 300), (0, 300)], [[(10, 10), (10, 20), (20, 20), (20, 10)]])]
)


def one_of_each() -> dict[str, Record]:
    """Return a row of every table, by its table, with values in as many columns as can be."""
    field = Field(
        name="Long Field",
        outline=FIELD,
        origin_x_m=0.1,
        origin_y_m=-0.2,
        turned_deg=1 / 3,
        soil="sand",
        forage=Forage.BERMUDA,
    )
    kind = NetKind(name="50 m nets", tape="blue", bays_mm=(3600,) * 13 + (3200,), ohm_per_km=30.5, price=119.5)
    group = Group(
        name="Weaners",
        ringed=True,
        feed_share=0.8,
        feed_kg=2.1,
        feed_protein_g_kg=150.0,
        tank_l=250.0,
        feeder_kg=120.0,
        drinkers=2,
        target_kg=110.5,
    )
    booking = SlaughterBooking(
        group_uid=group.uid, goes_on=date(2026, 9, 1), pigs=4, least_kg=105.0, gone=4, dead_kg=83.2
    )
    yard = Place(kind=PlaceKind.ENERGIZER, name="Yard", point=shapely.Point(1.5, 2.25), radius_m=0.7)
    energizer = Energizer(
        name="Far unit",
        source=PowerSource.SOLAR,
        place_uid=yard.uid,
        group_uid=group.uid,
        output_j=0.5,
        open_kv=9.0,
        kv_500=3.8,
        rods=3,
        rod_m=1.0,
        rod_mm=12.0,
        rods_apart_m=3.0,
        soil=Soil.CLAY,
        lead_m=40.5,
        swap_on=date(2026, 3, 9),
    )
    paddock = Paddock(
        name="Long Field 1",
        field_uid=field.uid,
        outline=SQUARE,
        net_kind_uid=kind.uid,
        nets_long=1,
        nets_wide=1,
        energizer_uid=energizer.uid,
        own_switch=True,
        side_nets=(f"1 {kind.uid}", f"1 {kind.uid}"),
    )
    stay = Stay(
        group_uid=group.uid,
        paddock_uid=paddock.uid,
        ground=SQUARE,
        state=StayState.PAST,
        in_on=date(2026, 3, 1),
        out_on=date(2026, 3, 6),
    )
    net = Net(net_kind_uid=kind.uid, number="7", first_used_on=date(2024, 3, 1), damaged_on=date(2025, 4, 1))
    check = Check(
        checked_on=date(2026, 3, 2),
        group_uid=group.uid,
        paddock_uid=paddock.uid,
        point=shapely.Point(120, 230),
        fence_kv=5.3,
        pigs_seen=24,
        water_ok=True,
        soil_on_net=False,
        rooting_score=2,
        note="“all” ok, ä\nsecond line",
    )
    rows: list[Record] = [
        field,
        Purpose(
            field_uid=field.uid,
            from_month_day="11-01",
            to_month_day="03-15",
            purpose=Use.WINTER_GROUND,
            rooting_wanted=0.3,
        ),
        KeepOut(name="Pond", reason=Reason.POND, shape=shapely.Point(30, 40), radius_m=8.5, field_uid=field.uid),
        Way(
            kind=WayKind.PERMANENT_FENCE,
            line=shapely.LineString([(0, 0), (9, 1)]),
            electric=True,
            energizer_uid=yard.uid,
            height_m=6.5,
            communication=True,
        ),
        yard,
        energizer,
        EnergizerReading(energizer_uid=energizer.uid, read_on=date(2026, 3, 2), battery_v=12.4, earth_kv=0.2),
        paddock,
        group,
        GroupEvent(
            group_uid=group.uid,
            happened_on=date(2026, 2, 28),
            kind=GroupEventKind.BOUGHT,
            pigs=24,
            mean_kg=31.7,
            weighed_by=WeighedBy.TAPE,
        ),
        stay,
        kind,
        net,
        NetRepair(net_uid=net.uid, mended_on=date(2025, 4, 2), what="two meshes"),
        NetUse(
            net_uid=net.uid,
            net_kind_uid=kind.uid,
            paddock_uid=paddock.uid,
            run=shapely.LineString([(100.1, 200.2), (150.3, 200.2)]),
            set_on=date(2026, 3, 1),
        ),
        check,
        Image(name="Air", link="air.tif", opacity=0.9, pins="[]", bands=(4, 1, 2), darkest=7.5, brightest=250.0),
        WeatherDay(day=date(2026, 3, 2), rain_mm=0.1 + 0.2, min_c=-3.0, max_c=7.5, humidity_pct=81.5, hot=True),
        Setting(key="units", value_json='"metric"'),
        GroundJob(
            kind=GroundJobKind.USED_BEFORE,
            shape=shapely.MultiPolygon([SQUARE]),
            position=1,
            happened_on=date(2024, 10, 16),
            within_days=46,
            until_on=date(2024, 10, 20),
            rooting_score=3,
            n_kg_ha=12.5,
        ),
        Treatment(
            group_uid=group.uid,
            given_on=date(2026, 3, 3),
            last_on=date(2026, 3, 5),
            pigs=3,
            which="11, 12, 15",
            product="Made-up drench",
            batch="b-7",
            dose="2 ml",
            given_by="J.",
            withdrawal_days=14,
        ),
        Escape(
            group_uid=group.uid,
            paddock_uid=paddock.uid,
            happened_on=date(2026, 3, 4),
            point=shapely.Point(110.5, 200.25),
            why="net down under snow",
            fence_kv=0.4,
            pigs_out=5,
            pigs_back=5,
        ),
        Litter(
            group_uid=group.uid,
            sow="0417",
            served_on=date(2026, 1, 5),
            due_on=date(2026, 4, 30),
            farrowed_on=date(2026, 4, 29),
            born=11,
            weaned_on=date(2026, 6, 12),
            weaned=10,
            weaned_group_uid=group.uid,
        ),
        booking,
        RegisterEntry(
            happened_on=date(2026, 9, 1),
            direction=Direction.OFF,
            pigs=4,
            mark="DE 09",
            from_where="Made-up Farm",
            to_where="butcher",
            group_uid=group.uid,
            booking_uid=booking.uid,
        ),
        OwnDays(
            group_uid=group.uid,
            purpose=Use.TURN_OVER,
            from_month_day="11-01",
            to_month_day="03-31",
            days=2.5,
        ),
        Terrain(name="Heights", link="heights.tif"),
        Photo(
            sha256="ab" * 32,
            width_px=2048,
            height_px=1536,
            check_uid=check.uid,
            paddock_uid=paddock.uid,
            field_uid=field.uid,
            point=shapely.Point(121.5, 231.25),
            taken_on=date(2026, 3, 2),
            note="post broken",
        ),
        MoveDone(to_stay_uid=stay.uid, done_on=date(2026, 3, 1), minutes=35.0, people=2),
        GearPlace(
            kind=GearKind.SHADE,
            group_uid=group.uid,
            stay_uid=stay.uid,
            set_on=date(2026, 3, 1),
            point=shapely.Point(118.0, 226.0),
        ),
        FlowLine(name="Dip", line=shapely.LineString([(110, 210), (150, 240)])),
    ]
    return {row.TABLE: row for row in rows}


def farm_of(*rows: Record, **more: Any) -> Farm:
    """Return a farm that holds some rows."""
    tables: dict[str, Any] = {
        table: MappingProxyType({row.uid: row for row in rows if table == row.TABLE}) for table in TABLES
    }
    return Farm(document_uid="made up", projection=PROJECTION, **tables, **more)


def edit(label: str, *changes: RowChange) -> Edit:
    """Return an edit that makes some changes whatever the farm is."""
    return Edit(Text(label), lambda _: changes)


def whole_farm(path: Path) -> dict[str, Record]:
    """Make a farm file with a row of every table in it, and return the rows by table."""
    rows = one_of_each()
    with Session.create(path, PROJECTION, "Made-up Farm") as session:
        session.do(edit("Everything added", *(add(row) for row in rows.values()))).result()
    return rows
