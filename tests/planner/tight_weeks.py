"""The limits between van-days drawn tight around a plan: met exactly at 0, passed by one at 1."""

from itertools import product

from tests.planner.told import Kinds, Told, first

TIGHT_WEEKS = kind = Kinds()
EVER = 10**6


@kind("minutes after", "at least")
def starts_a_minute_before_the_lag_is_over(told: Told, by: int) -> None:
    wait, _, stop, _, before = first(told.afters())
    wait["min_lag"] = stop["start"] - before["end"] + by
    wait["max_lag"] = None


@kind("minutes after", "at most")
def starts_a_minute_after_the_longest_lag(told: Told, by: int) -> None:
    wait, _, stop, _, before = first(
        row for row in told.afters() if row[2]["start"] > row[4]["end"]
    )
    wait["min_lag"] = 0
    wait["max_lag"] = stop["start"] - before["end"] - by


@kind("outside its lag table", "outside its lag table")
def follows_an_end_that_the_lag_table_does_not_hold(told: Told, by: int) -> None:
    wait, _, _, _, before = first(told.afters())
    wait["min_lag"] = [[0, before["end"] + 1 - by, 0]]


@kind("outside its lag table", "outside its lag table")
def follows_an_end_before_the_longest_lags_table(told: Told, by: int) -> None:
    wait, _, _, _, before = first(told.afters())
    wait["max_lag"] = [[before["end"] + by, EVER, EVER]]


@kind("minutes after", "at least")
def looks_up_the_lag_in_the_row_of_its_end(told: Told, by: int) -> None:
    wait, _, stop, _, before = first(told.afters())
    end = before["end"]
    wait["min_lag"] = [[0, end + by, stop["start"] - end + 1], [end + by, EVER, 0]]
    wait["max_lag"] = None


def on_a_boat(told: Told) -> list[tuple[dict, dict, dict]]:
    """Return pairs of visits that follow one another on a boat: stage and visit, then the next visit."""
    rows = sorted(told.all_visits(), key=lambda row: row[1]["start"])
    pairs = [
        (stage, stop, later)
        for i, (_, stop, stage) in enumerate(rows)
        for _, later, other in rows[i + 1 :]
        if told.boat(other) == told.boat(stage)
    ]
    return [pair for pair in pairs if pair[2]["start"] >= pair[1]["end"]]


def next_on_the_boat(told: Told) -> tuple[dict, dict, dict]:
    seen = set()
    pairs = ((s, v, w) for s, v, w in on_a_boat(told) if s["id"] not in seen)
    return first(pairs)


@kind("runs or cures to", "runs or cures to")
def works_on_a_boat_a_minute_before_it_is_cured(told: Told, by: int) -> None:
    stage, stop, later = next_on_the_boat(told)
    stage["hold_min"] = later["start"] - stop["end"] + by


@kind("outside its hold table", "outside its hold_min table")
def ends_when_the_hold_table_does_not_say(told: Told, by: int) -> None:
    stage, stop, _ = next_on_the_boat(told)
    stage["hold_min"] = [[0, stop["end"] + 1 - by, 0]]


@kind("while", "while")
def works_twice_at_once_on_one_boat(told: Told, by: int) -> None:
    pairs = product(told.visits(), told.visits())
    (_, _, one), (_, _, two) = first(
        (a, b)
        for a, b in pairs
        if a[0] is not b[0]
        and a[1]["start"] < b[1]["end"]
        and b[1]["start"] < a[1]["end"]
    )
    if by:
        told.job[one["job"]]["boat"] = told.boat(two)


def towed_away(told: Told) -> tuple[dict, dict, dict, dict]:
    """Return a visit's need of a trailer, the visit, its stage, and the tow that ends the stand."""
    tows = sorted((t for _, t in told.stops("tow")), key=lambda t: t["start"])
    return first(
        (need, stop, stage, tow)
        for tow in tows
        for _, stop, stage in told.all_visits()
        for need in stage["trailers"]
        if (need["kind"], stage["place"])
        == (told.trailer[tow["trailer"]]["kind"], tow["from"])
        and stop["end"] <= tow["start"]
    )


@kind("has no", "stands at")
def is_left_by_its_trailer_a_minute_too_soon(told: Told, by: int) -> None:
    need, stop, _, tow = towed_away(told)
    need["stays_min"] = tow["start"] - stop["end"] + by


@kind("outside the table for its", "outside its stays_min table")
def ends_when_the_table_of_stays_does_not_say(told: Told, by: int) -> None:
    need, stop, _, _ = towed_away(told)
    need["stays_min"] = [[0, stop["end"] + 1 - by, 0]]


@kind("but stands at", "towed from")
def tows_from_where_the_trailer_is_not(told: Told, by: int) -> None:
    _, tow = first(told.stops("tow"))
    row = told.trailer[tow["trailer"]]
    other = first(p["id"] for p in told.problem["places"] if p["id"] != row["place"])
    row["place"] = other if by else row["place"]


@kind("takes", "takes")
def tows_a_minute_too_fast(told: Told, by: int) -> None:
    _, tow = first(told.stops("tow"))
    told.trailer[tow["trailer"]]["unhook_min"] += by


@kind("cannot tow", "cannot tow")
def tows_with_a_van_that_cannot(told: Told, by: int) -> None:
    vd, _ = first(
        (vd, t) for vd, t in told.stops("tow") if told.trailer[t["trailer"]]["towed"]
    )
    told.van[vd["van"]]["tows"] = not by


def standing_trailer(told: Told, place: str) -> None:
    told.problem["trailers"].append(
        {
            "id": "scaffold",
            "kind": "scaffold",
            "place": place,
            "towed": False,
            "hook_min": 5,
            "unhook_min": 5,
            "factor_pct": 100,
        }
    )


@kind("has no scaffold", "no scaffold stands")
def works_without_the_trailer_it_needs(told: Told, by: int) -> None:
    _, _, stage = first(told.visits())
    other = first(p["id"] for p in told.problem["places"] if p["id"] != stage["place"])
    stage["trailers"].append({"kind": "scaffold", "stays_min": 0})
    standing_trailer(told, other if by else stage["place"])


@kind("for two boats at once", "for two boats at once")
def shares_a_trailer_between_two_boats_for_a_minute(told: Told, by: int) -> None:
    (_, stop, one), (_, later, two) = first(
        (a, b)
        for a, b in product(told.visits(), told.visits())
        if a[2]["place"] == b[2]["place"]
        and told.boat(a[2]) != told.boat(b[2])
        and a[1]["end"] <= b[1]["start"]
    )
    stays = later["start"] - stop["end"] + by
    one["trailers"].append({"kind": "scaffold", "stays_min": stays})
    two["trailers"].append({"kind": "scaffold", "stays_min": 0})
    standing_trailer(told, one["place"])


@kind("before now", "departs before now")
def departs_a_minute_before_now(told: Told, by: int) -> None:
    if told.problem["frozen"]:
        first([])
    told.problem["now"] = min(vd["depart"] for vd in told.days) + by


@kind("starts something new before now", "a new stop starts before now")
def goes_on_a_minute_before_now(told: Told, by: int) -> None:
    held = {(f["van"], f["day"]): len(f["stops"]) for f in told.problem["frozen"]}
    new = [
        stop["start"]
        for vd in told.plan["van_days"]
        for stop in vd["stops"][held.get((vd["van"], vd["day"]), EVER) :]
    ]
    told.problem["now"] = min(first([new] if new else [])) + by


@kind("is pinned to van", "not where it is pinned")
def starts_a_minute_before_its_pin(told: Told, by: int) -> None:
    vd, stop, stage = first(told.visits())
    stage["pinned"] = {"van": vd["van"], "start": stop["start"] + by}
    stage["windows"] = [[0, EVER]]


@kind("is not on the van and day of", "not on the van and day of")
def is_on_another_van_day_than_the_one_before(told: Told, by: int) -> None:
    wait = first(w for w, vd, _, other, _ in told.afters() if vd is not other)
    wait["same_van_day"] = bool(by)


@kind("is visited, but", "before it is not")
def is_visited_though_the_one_before_is_not(told: Told, by: int) -> None:
    stage = first(stage for _, _, stage in told.visits())
    left = first(u["stage"] for u in told.plan["unplaced"])
    wait = {"stage": left, "min_lag": 0, "max_lag": None, "same_van_day": False}
    if by:
        stage["after"].append(wait)


@kind("lies above the total", "above the total")
def claims_a_bound_a_cent_above_its_cost(told: Told, by: int) -> None:
    told.restated().plan["bound"] = told.plan["cost"]["total"] + by
