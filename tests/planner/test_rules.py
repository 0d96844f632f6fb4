"""The house's judge and the outside judge agree: on good plans, at each limit, and on what is wrong."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.planner.cost import cost
from dispatch.planner.plan import PARTS, InvalidPlan, read_plan
from dispatch.planner.read import read_problem
from dispatch.planner.rules import judge
from tests.planner.misnamed_plans import MISNAMED
from tests.planner.tight_days import TIGHT_DAYS
from tests.planner.tight_weeks import TIGHT_WEEKS
from tests.planner.told import Kind, Told, Unfit
from tests.planner.weeks import saved
from tests.planner.wrong_plans import WRONG

WEEKS = ("rich_noon", "ten_jobs", "six_jobs")


def spoilt(kind: Kind, by: int = 1) -> Told:
    """Return the first saved week that can be spoilt so, with its costs stated anew."""
    for name in WEEKS:
        told = Told(*saved(name))
        try:
            kind.spoil(told, by)
        except Unfit:
            continue
        return told.restated()
    pytest.fail(f"No saved week fits: {kind.name}.")


@pytest.mark.parametrize("name", WEEKS)
def test_neither_judge_finds_fault_with_a_saved_plan(name):
    assert Told(*saved(name)).verdicts() == ([], [])


@pytest.mark.parametrize("kind", TIGHT_DAYS + TIGHT_WEEKS, ids=lambda k: k.name)
def test_a_limit_met_exactly_is_kept_and_one_more_is_too_many(kind):
    assert spoilt(kind, 0).verdicts() == ([], [])
    ours, theirs = spoilt(kind).verdicts()
    assert ours
    assert all(kind.ours in sentence for sentence in ours), ours
    assert theirs
    assert all(kind.theirs in sentence for sentence in theirs), theirs


@pytest.mark.parametrize("kind", WRONG + MISNAMED, ids=lambda k: k.name)
def test_both_judges_say_what_is_wrong(kind):
    ours, theirs = spoilt(kind).verdicts()
    assert any(kind.ours in sentence for sentence in ours), ours
    assert any(kind.theirs in sentence for sentence in theirs), theirs


@pytest.mark.parametrize("kind", TIGHT_DAYS + TIGHT_WEEKS + WRONG, ids=lambda k: k.name)
def test_both_reckon_the_same_cost_of_a_spoilt_plan(kind):
    told = spoilt(kind)
    found = cost(read_problem(told.problem), read_plan(told.plan))
    assert found == told.plan["cost"]


@pytest.mark.parametrize("part", [*PARTS, "total"])
@pytest.mark.parametrize("cents", [-1, 1])
def test_both_judges_see_a_part_that_is_a_cent_off(part, cents):
    told = Told(*saved("rich_noon"))
    told.plan["cost"][part] += cents
    [ours], [theirs] = told.verdicts()
    assert f"cents for {part}" in ours
    assert f"stated {part}" in theirs


def _shift(told, draw):
    vd = draw(st.sampled_from(told.plan["van_days"]))
    row = draw(st.sampled_from([vd, *vd["stops"]]))
    key = draw(st.sampled_from(["start", "end"] if "do" in row else ["depart", "back"]))
    row[key] += draw(st.integers(-40, 40))


def _slide(told, draw):
    vd = draw(st.sampled_from([vd for vd in told.plan["van_days"] if vd["stops"]]))
    stop = draw(st.sampled_from(vd["stops"]))
    by = draw(st.integers(-90, 90))
    stop["start"], stop["end"] = stop["start"] + by, stop["end"] + by


def _rest(told, draw):
    vd = draw(st.sampled_from(told.plan["van_days"]))
    start = draw(st.integers(vd["depart"], vd["back"]))
    vd["break"] = draw(st.sampled_from([None, [start, start + 30]]))


def _swap(told, draw):
    one, two = (draw(st.sampled_from(told.plan["van_days"])) for _ in range(2))
    key = draw(st.sampled_from(["team", "stops", "van", "break"]))
    one[key], two[key] = two[key], one[key]


def _move(told, draw):
    one, two = (draw(st.sampled_from(told.plan["van_days"])) for _ in range(2))
    if one["stops"]:
        two["stops"].append(one["stops"].pop())
        two["stops"].sort(key=lambda stop: stop["start"])


def _hire(told, draw):
    vd = draw(st.sampled_from(told.plan["van_days"]))
    who = draw(st.sampled_from(sorted(told.person)))
    vd["team"] = draw(st.sampled_from([[who], [*vd["team"], who], vd["team"][1:]]))


def _another_way(told, draw):
    for job in told.plan["chosen"]:
        told.plan["chosen"][job] = draw(st.sampled_from(told.job[job]["variants"]))


CHANGES = [_shift, _slide, _rest, _swap, _move, _hire, _another_way]


@given(data=st.data(), name=st.sampled_from(WEEKS))
@settings(max_examples=150, deadline=None)
def test_whatever_is_changed_both_judges_agree(data, name):
    told = Told(*saved(name))
    for change in data.draw(st.lists(st.sampled_from(CHANGES), max_size=3)):
        change(told, data.draw)
    ours, theirs = told.restated().verdicts()
    assert bool(ours) == bool(theirs), (ours, theirs)
    if not any(sentence.startswith("unreadable") for sentence in theirs):
        found = cost(read_problem(told.problem), read_plan(told.plan))
        assert found == told.plan["cost"]


MISSHAPEN = {
    "no format": lambda plan: plan.pop("format"),
    "another format": lambda plan: plan.update(format="week-plan/1"),
    "no van-days": lambda plan: plan.pop("van_days"),
    "a van-day that is a word": lambda plan: plan["van_days"].append("Monday"),
    "half a break": lambda plan: plan["van_days"][0].update({"break": [700]}),
    "a stop that does nothing": lambda p: p["van_days"][0]["stops"][0].update(do="nap"),
    "a start of half a minute": lambda p: p["van_days"][0]["stops"][0].update(
        start=0.5
    ),
    "a departure in words": lambda plan: plan["van_days"][0].update(depart="early"),
    "no departure": lambda plan: plan["van_days"][0].pop("depart"),
    "a return before it leaves": lambda p: p["van_days"][0].update(back=0),
    "a day that is true": lambda plan: plan["van_days"][0].update(day=True),
    "a van that is a list": lambda plan: plan["van_days"][0].update(van=["V0"]),
    "a team of nobody": lambda plan: plan["van_days"][0]["team"].clear(),
    "a team in one word": lambda plan: plan["van_days"][0].update(team="P1"),
    "a cost in dollars": lambda plan: plan["cost"].update(wages=1.5),
    "a cost without its total": lambda plan: plan["cost"].pop("total"),
    "a bound in dollars": lambda plan: plan.update(bound=1.5),
    "choices in a list": lambda plan: plan.update(chosen=[]),
}


@pytest.mark.parametrize("how", MISSHAPEN)
def test_what_is_no_plan_is_refused_in_a_sentence(how):
    problem, plan = saved("rich_noon")
    MISSHAPEN[how](plan)
    try:
        ours = judge(read_problem(problem), read_plan(plan))
    except InvalidPlan as error:
        ours = [str(error)]
    assert ours
    assert all(sentence.endswith(".") for sentence in ours)
