"""Plans that cannot be read against their problem: they name what it does not list, or go nowhere."""

from tests.planner.told import Kinds, Told, first

MISNAMED = kind = Kinds()


@kind("goes nowhere", "unreadable")
def sends_a_van_nowhere(told: Told, by: int) -> None:
    first(told.days)["stops"].clear()


@kind("names stage", "unreadable")
def visits_a_stage_nobody_listed(told: Told, by: int) -> None:
    first(told.stops("visit"))[1]["stage"] = "nowhere"


@kind("names van", "unreadable")
def sends_a_van_nobody_listed(told: Told, by: int) -> None:
    first(told.days)["van"] = "nowhere"


@kind("names person", "unreadable")
def sends_a_person_nobody_listed(told: Told, by: int) -> None:
    first(told.days)["team"][0] = "nobody"


@kind("names day", "unreadable")
def works_on_a_day_the_week_has_not(told: Told, by: int) -> None:
    first(told.days)["day"] = len(told.problem["days"])


@kind("names trailer", "unreadable")
def tows_a_trailer_nobody_listed(told: Told, by: int) -> None:
    first(told.stops("tow"))[1]["trailer"] = "none"


@kind("names place", "unreadable")
def tows_to_a_place_nobody_listed(told: Told, by: int) -> None:
    first(told.stops("tow"))[1]["to"] = "nowhere"


@kind("names stage", "unreadable")
def leaves_out_a_stage_nobody_listed(told: Told, by: int) -> None:
    first(told.plan["unplaced"])["stage"] = "nowhere"


@kind("must choose a variant", "unreadable")
def chooses_no_way(told: Told, by: int) -> None:
    del told.plan["chosen"][first(told.plan["chosen"])]


@kind("must choose a variant", "unreadable")
def chooses_a_way_for_a_job_that_has_none(told: Told, by: int) -> None:
    job = first(j["id"] for j in told.problem["jobs"] if not j["variants"])
    told.plan["chosen"][job] = "parked"
