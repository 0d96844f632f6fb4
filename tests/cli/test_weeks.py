"""`solve_week` and `judge_week`, from files into files."""

import json

import pytest
from django.core.management import CommandError, call_command

from tests.planner.weeks import faults, saved, tiny


@pytest.fixture
def files(tmp_path):
    problem, plan = saved("six_jobs")
    (tmp_path / "in.json").write_text(json.dumps(problem))
    (tmp_path / "out.json").write_text(json.dumps(plan))
    return tmp_path


def test_a_week_is_solved_from_a_file_into_a_file(files, capsys):
    new = files / "new.json"
    options = {"seconds": 1, "start": files / "out.json"}
    call_command("solve_week", files / "in.json", new, **options)
    problem = json.loads((files / "in.json").read_text())
    assert faults(problem, json.loads(new.read_text())) == []
    assert "Total" in capsys.readouterr().out


@pytest.mark.parametrize("text", ["not JSON", "[]", json.dumps(tiny(days=[]))])
def test_a_bad_file_ends_with_status_2(files, text):
    (files / "in.json").write_text(text)
    with pytest.raises(CommandError) as refusal:
        call_command("solve_week", files / "in.json", files / "new.json")
    assert refusal.value.returncode == 2


def test_a_good_plan_breaks_no_rule(files, capsys):
    call_command("judge_week", files / "in.json", files / "out.json")
    assert "breaks no rule" in capsys.readouterr().out


def test_a_spoilt_plan_ends_with_status_1_and_says_what_is_broken(files):
    plan = json.loads((files / "out.json").read_text())
    plan["van_days"].pop()
    (files / "out.json").write_text(json.dumps(plan))
    with pytest.raises(CommandError, match="visited or listed") as refusal:
        call_command("judge_week", files / "in.json", files / "out.json")
    assert refusal.value.returncode == 1


def test_a_plan_that_is_not_there_ends_with_status_2(files):
    with pytest.raises(CommandError) as refusal:
        call_command("judge_week", files / "in.json", files / "none.json")
    assert refusal.value.returncode == 2
