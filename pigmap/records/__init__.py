"""What a farm is: frozen records of the trade's own words. No reading, drawing or solving."""

from __future__ import annotations

from pigmap.records.care import Escape, Litter, SlaughterBooking, Treatment
from pigmap.records.change import ChangeSet, Edit, RowChange, add, change, remove
from pigmap.records.check import Check
from pigmap.records.energizer import Energizer, EnergizerReading, PowerSource, Soil
from pigmap.records.farm import TABLES, Farm, Rows
from pigmap.records.field import Field, Forage, GroundCover, Purpose, Use
from pigmap.records.flow_line import FlowLine
from pigmap.records.gear import GearKind, GearPlace
from pigmap.records.gear_standing import StandingGear, gear_on, gear_standing
from pigmap.records.ground_job import GroundJob, GroundJobKind
from pigmap.records.group import Group, GroupEvent, GroupEventKind, PigClass, WeighedBy
from pigmap.records.lasting import AS_PLANNED, Lasting, lasting, lasting_on
from pigmap.records.move_done import MoveDone
from pigmap.records.net import Net, NetCondition, NetKind, NetRepair, NetUse
from pigmap.records.own_days import OwnDays
from pigmap.records.paddock import Paddock
from pigmap.records.photo import Photo
from pigmap.records.projection import Projection
from pigmap.records.record import Record
from pigmap.records.register import Direction, RegisterEntry
from pigmap.records.setting import Setting
from pigmap.records.stay import Stay, StayState
from pigmap.records.surroundings import Image, KeepOut, Place, PlaceKind, Reason, Way, WayKind
from pigmap.records.terrain import Terrain
from pigmap.records.uid import new_uid
from pigmap.records.weather import WeatherDay

__all__ = [
    "AS_PLANNED",
    "TABLES",
    "ChangeSet",
    "Check",
    "Direction",
    "Edit",
    "Energizer",
    "EnergizerReading",
    "Escape",
    "Farm",
    "Field",
    "FlowLine",
    "Forage",
    "GearKind",
    "GearPlace",
    "GroundCover",
    "GroundJob",
    "GroundJobKind",
    "Group",
    "GroupEvent",
    "GroupEventKind",
    "Image",
    "KeepOut",
    "Lasting",
    "Litter",
    "MoveDone",
    "Net",
    "NetCondition",
    "NetKind",
    "NetRepair",
    "NetUse",
    "OwnDays",
    "Paddock",
    "Photo",
    "PigClass",
    "Place",
    "PlaceKind",
    "PowerSource",
    "Projection",
    "Purpose",
    "Reason",
    "Record",
    "RegisterEntry",
    "RowChange",
    "Rows",
    "Setting",
    "SlaughterBooking",
    "Soil",
    "StandingGear",
    "Stay",
    "StayState",
    "Terrain",
    "Treatment",
    "Use",
    "Way",
    "WayKind",
    "WeatherDay",
    "WeighedBy",
    "add",
    "change",
    "gear_on",
    "gear_standing",
    "lasting",
    "lasting_on",
    "new_uid",
    "remove",
]
