"""The planner is run as a process, watched, and its plan judged."""

import signal
import subprocess
import sys

import pytest

from dispatch.actions import solving
from dispatch.actions.errors import Refused
from dispatch.actions.solving import Unsolved, judge, solve, started
from tests.planner.weeks import faults, made, saved, tiny


def test_a_week_is_solved_and_its_progress_told():
    problem, lines = made("small", 1), []
    plan = solve(problem, seconds=1, workers=1, seed=3, on_progress=lines.append)
    assert faults(problem, plan) == []
    assert judge(problem, plan) == []
    assert [line["phase"] for line in lines][-1] == "done"


def test_asked_to_stop_it_gives_the_best_so_far():
    problem, told = made("small", 1), []
    plan = solve(
        problem,
        seconds=600,
        workers=1,
        seed=1,
        on_progress=told.append,
        should_stop=lambda: any(line["cost"] for line in told),
    )
    assert faults(problem, plan) == []


def test_an_earlier_plan_is_taken_up():
    problem, plan = saved("six_jobs")
    again = solve(problem, seconds=1, workers=1, seed=1, start_from=plan)
    assert again["cost"]["total"] <= plan["cost"]["total"]


def test_a_bad_problem_is_refused_with_the_planners_sentence():
    with pytest.raises(Unsolved, match="no days"):
        solve(tiny(days=[]), seconds=1, workers=1, seed=1)


def test_a_planner_that_does_not_end_is_stopped(monkeypatch):
    monkeypatch.setattr(solving, "GRACE_SECONDS", -659.5)
    with pytest.raises(Unsolved, match="did not end"):
        solve(made("small", 1), seconds=600, workers=1, seed=1)


def test_a_planner_whose_week_cannot_be_read_is_ended(monkeypatch):
    made, popen = [], subprocess.Popen

    def noted(*args, **more):
        made.append(popen(*args, **more))
        return made[0]

    monkeypatch.setattr(subprocess, "Popen", noted)
    with pytest.raises(Refused), started(seconds=600, workers=1, seed=1):
        raise Refused("The week has no vans.")
    assert made[0].returncode == -signal.SIGKILL


def test_a_planner_that_fails_before_it_hears_its_week_says_so(monkeypatch):
    monkeypatch.setattr(solving, "_command", lambda *_: [sys.executable, "-c", "1 / 0"])
    with pytest.raises(Unsolved, match="ZeroDivisionError"):
        solve(made("medium", 1), seconds=1, workers=1, seed=1)


# A planner that compiles for a second before it searches for none.
_SLOW_START = """
import json, pathlib, sys, time
sys.stdin.read()
for phase, seconds in (("compile", 1.2), ("search", 0)):
    print(json.dumps({"phase": phase, "cost": None}), flush=True)
    time.sleep(seconds)
pathlib.Path(sys.argv[1]).write_text("{}")
"""


def test_compiling_first_does_not_use_up_the_seconds(monkeypatch):
    monkeypatch.setattr(solving, "GRACE_SECONDS", 0.8)
    monkeypatch.setattr(
        solving,
        "_command",
        lambda folder, _: [
            sys.executable,
            "-c",
            _SLOW_START,
            str(folder / "plan.json"),
        ],
    )
    assert solve(made("small", 1), seconds=0, workers=1, seed=1) == {}


def test_compiling_has_an_end_too(monkeypatch):
    monkeypatch.setattr(solving, "COMPILE_SECONDS", 0.3)
    monkeypatch.setattr(
        solving,
        "_command",
        lambda folder, _: [
            sys.executable,
            "-c",
            _SLOW_START,
            str(folder / "plan.json"),
        ],
    )
    with pytest.raises(Unsolved, match="did not end"):
        solve(made("small", 1), seconds=5, workers=1, seed=1)


def test_a_plan_that_is_none_cannot_be_judged():
    with pytest.raises(Unsolved, match="lacks 'format'"):
        judge(tiny(), {})
