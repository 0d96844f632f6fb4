"""Every table of the house, by subject."""

from dispatch.records.models.boats import Boat, Customer, Photo
from dispatch.records.models.catalogue import CatalogueRow, JobKind
from dispatch.records.models.covers import Cover
from dispatch.records.models.fleet import Equipment, Standing, Van, VanOff
from dispatch.records.models.heard import CrewReport, Post, Reply
from dispatch.records.models.history import HistoryEntry
from dispatch.records.models.mends import Mend
from dispatch.records.models.money import Extra, Invoice, Payment, ToldPrice
from dispatch.records.models.notice import Notice
from dispatch.records.models.outfit import DueWork, Feed, Outfit, PluginState, Setting
from dispatch.records.models.overrides import Override
from dispatch.records.models.people import (
    Account,
    DayOff,
    Duty,
    KeptApart,
    Person,
    Skill,
)
from dispatch.records.models.places import AccessHours, Closure, DriveTime, Place
from dispatch.records.models.schedule import (
    Bump,
    Hold,
    Pin,
    Tow,
    VanDay,
    Visit,
    Week,
    WeekPlan,
)
from dispatch.records.models.sheets import Can, Sheet
from dispatch.records.models.shut_out import ShutOut
from dispatch.records.models.weather import (
    Forecast,
    ForecastHour,
    Judged,
    Reading,
    Veto,
)
from dispatch.records.models.work import Job, Laid, Recurring, Stage, StageLink

__all__ = [
    "AccessHours",
    "Account",
    "Boat",
    "Bump",
    "Can",
    "CatalogueRow",
    "Closure",
    "Cover",
    "CrewReport",
    "Customer",
    "DayOff",
    "DriveTime",
    "DueWork",
    "Duty",
    "Equipment",
    "Extra",
    "Feed",
    "Forecast",
    "ForecastHour",
    "HistoryEntry",
    "Hold",
    "Invoice",
    "Job",
    "JobKind",
    "Judged",
    "KeptApart",
    "Laid",
    "Mend",
    "Notice",
    "Outfit",
    "Override",
    "Payment",
    "Person",
    "Photo",
    "Pin",
    "Place",
    "PluginState",
    "Post",
    "Reading",
    "Recurring",
    "Reply",
    "Setting",
    "Sheet",
    "ShutOut",
    "Skill",
    "Stage",
    "StageLink",
    "Standing",
    "ToldPrice",
    "Tow",
    "Van",
    "VanDay",
    "VanOff",
    "Veto",
    "Visit",
    "Week",
    "WeekPlan",
]
