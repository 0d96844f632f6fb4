"""The planner's process: progress lines, a good stop, and a sentence for bad input."""

import json
import signal
import subprocess
import sys

from dispatch.planner.build import Build, Effort
from dispatch.planner.plan import write_plan
from dispatch.planner.read import read_problem
from dispatch.planner.solve.start import Start
from tests.planner.weeks import faults, made, tiny


def start(tmp_path, problem, *options):
    (tmp_path / "in.json").write_text(json.dumps(problem))
    files = [str(tmp_path / "in.json"), str(tmp_path / "out.json")]
    return subprocess.Popen(
        [sys.executable, "-m", "dispatch.planner", *files, *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def test_it_tells_its_progress_line_by_line(tmp_path):
    problem = made("small", 1)
    run = start(tmp_path, problem, "--steps", "3", "--workers", "2")
    lines = [json.loads(line) for line in run.communicate()[0].splitlines()]
    assert run.returncode == 0
    assert all(set(line) == {"phase", "cost", "bound", "steps"} for line in lines)
    assert faults(problem, json.loads((tmp_path / "out.json").read_text())) == []


def test_asked_to_stop_it_leaves_the_best_so_far(tmp_path):
    problem = made("small", 1)
    run = start(tmp_path, problem, "--seconds", "600")
    while json.loads(run.stdout.readline())["cost"] is None:
        pass
    run.send_signal(signal.SIGTERM)
    run.communicate(timeout=8)
    assert run.returncode == 0
    assert faults(problem, json.loads((tmp_path / "out.json").read_text())) == []


def test_asked_to_stop_it_hands_the_plan_over_before_it_explains_at_length():
    problem = made("medium", 1)
    asked, kept = [], []
    effort = Effort(seconds=600, stop=lambda: bool(asked))

    def tell(line):
        if line["cost"] is not None:
            asked.append(line)

    build = Build(read_problem(problem), effort, tell, kept.append)
    plan = build.run(Start())
    assert [k.van_days for k in kept] == [plan.van_days]
    assert faults(problem, write_plan(kept[0])) == []


def test_a_bad_problem_is_refused_in_one_line(tmp_path):
    run = start(tmp_path, tiny(days=[]))
    errors = run.communicate()[1]
    assert run.returncode == 2
    assert errors.strip() == "The week has no days; give it at least one."


def test_a_problem_may_come_by_standard_input(tmp_path):
    command = [sys.executable, "-m", "dispatch.planner", "-", str(tmp_path / "out")]
    for said, told in (
        (json.dumps(tiny(days=[])), "The week has no days"),
        ("{", "Standard input is not JSON"),
    ):
        run = subprocess.run(
            command, input=said, capture_output=True, text=True, check=False
        )
        assert run.returncode == 2
        assert told in run.stderr


def test_an_earlier_plan_may_be_started_from(tmp_path):
    problem = made("small", 3)
    start(tmp_path, problem, "--steps", "20").communicate()
    first = json.loads((tmp_path / "out.json").read_text())
    (tmp_path / "first.json").write_text(json.dumps(first))
    options = ("--steps", "0", "--from", str(tmp_path / "first.json"))
    start(tmp_path, problem, *options).communicate()
    again = json.loads((tmp_path / "out.json").read_text())
    assert again["cost"]["total"] <= first["cost"]["total"]
