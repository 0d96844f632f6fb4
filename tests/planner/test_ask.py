"""The planner's other process: one question in, one answer out, a sentence for a bad question."""

import json
import subprocess
import sys

from tests.planner.weeks import DAY, faults, planned, tiny, with_stage


def week():
    problem = tiny(days=[[0, DAY], [DAY, 2 * DAY]])
    for row in problem["people"] + problem["vans"]:
        row["duty"] = [[420, 1020], [DAY + 420, DAY + 1020]]
    problem["break"]["windows"] = [[660, 840], [DAY + 660, DAY + 840]]
    return with_stage(
        problem, "A", "quay", {"1": 60}, windows=[[420, 1020], [DAY + 420, DAY + 1020]]
    )


def ask(**changes):
    problem = week()
    asked = {"problem": problem, "plan": planned(problem, steps=10)}
    asked |= {"stage": "A.all", "days": [0, 1]} | changes
    return asked, subprocess.run(
        [sys.executable, "-m", "dispatch.planner.ask"],
        input=json.dumps(asked),
        capture_output=True,
        text=True,
        check=False,
    )


def test_each_day_is_answered_with_a_plan_or_a_reason():
    asked, done = ask()
    stays, moves = json.loads(done.stdout)
    assert done.returncode == 0
    assert (stays["plan"], stays["why_not"]) == (None, "It is on day 1 already.")
    assert faults(asked["problem"], moves["plan"]) == []
    more = moves["plan"]["cost"]["total"] - asked["plan"]["cost"]["total"]
    assert moves["cents"] == more > 0


def test_a_bad_question_is_answered_in_one_sentence():
    _, done = ask(stage="B")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == "The week has no stage 'B'.\n"
    _, done = ask(plan={"format": "week-plan/9"})
    assert done.stderr == "The plan says its format is 'week-plan/9'.\n"
