"""`solve_week` and `judge_week`, from files into files."""

import json
import subprocess
import sys

import pytest
from django.core.management import CommandError, call_command

from tests.planner.weeks import TESTS, faults, saved, tiny, with_stage


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


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("{", r"in\.json is not JSON"),
        ("[]", r"in\.json must hold one JSON object"),
        (json.dumps(tiny(days=[])), "day"),
        (
            json.dumps(with_stage(tiny(), "s", "moon", {"1": 60})),
            "names the place 'moon'",
        ),
    ],
)
def test_a_bad_file_ends_with_status_2_a_sentence_and_no_plan(files, text, sentence):
    (files / "in.json").write_text(text)
    with pytest.raises(CommandError, match=sentence) as refusal:
        call_command("solve_week", files / "in.json", files / "new.json")
    assert refusal.value.returncode == 2
    assert sorted(file.name for file in files.iterdir()) == ["in.json", "out.json"]


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"seconds": 0}, "--seconds is 0: give 1 or more"),
        ({"workers": -1}, "--workers is -1: give 1 or more"),
    ],
)
def test_no_effort_at_all_is_refused_before_the_search(files, changes, sentence):
    with pytest.raises(CommandError, match=sentence):
        call_command("solve_week", files / "in.json", files / "new.json", **changes)
    assert not (files / "new.json").exists()


def test_a_plan_with_no_folder_is_refused_before_the_search(files):
    with pytest.raises(CommandError, match="There is no folder"):
        call_command("solve_week", files / "in.json", files / "no" / "new.json")


def test_a_plan_that_cannot_be_written_leaves_nothing_behind(files):
    (files / "new.json").mkdir()
    with pytest.raises(CommandError, match=r"new\.json cannot be written"):
        call_command("solve_week", files / "in.json", files / "new.json", seconds=1)
    assert not list(files.glob("*.part"))


def test_a_skill_that_nobody_has_is_told_in_the_plan(files):
    needs = [{"skill": "juggling", "level": 1, "count": 1}]
    problem = with_stage(tiny(), "s", "quay", {"1": 60}, needs=needs)
    (files / "in.json").write_text(json.dumps(problem))
    call_command("solve_week", files / "in.json", files / "new.json", seconds=1)
    (left,) = json.loads((files / "new.json").read_text())["unplaced"]
    assert left["code"] == "no-team"
    assert "1 person with juggling" in left["why"]


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


@pytest.mark.parametrize("command", ["solve_week", "judge_week"])
def test_no_page_is_loaded_to_read_a_file(files, command):
    words = ["-X", "importtime", "manage.py", command]
    paths = [str(files / "none.json"), str(files / "out.json")]
    ended = subprocess.run(
        [sys.executable, *words, *paths],
        cwd=TESTS.parent,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 2
    assert "dispatch.actions.solving" in ended.stderr
    for room in ("dispatch.web", "dispatch.api"):
        assert room not in ended.stderr
