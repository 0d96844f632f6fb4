"""The demo command: what it prints of a week that stands, what it leaves alone, how Ctrl-C ends it."""

import contextlib
import json
import os
import stat
import subprocess
import sys
from io import StringIO

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command

from dispatch.actions import planning
from dispatch.cli import sign_ins
from dispatch.cli.management.commands import demo
from dispatch.records.models import Outfit, WeekPlan
from tests.actions import plans

pytestmark = pytest.mark.django_db
FRIDAY = (28, "07:30", "11:30", [("j1.mask", "07:40", "08:35")])


@pytest.fixture
def data(tmp_path, settings):
    settings.DATA_DIR = tmp_path
    return tmp_path


@pytest.fixture
def posted(data):
    """A posted week of an outfit on the demo's clock."""
    plans.coat(plans.outfit())
    planning.post(plans.draft([FRIDAY]), by=plans.owner())


def printed() -> str:
    out = StringIO()
    call_command("demo", keep=True, stdout=out)
    return out.getvalue()


def test_every_run_prints_the_board_the_sign_ins_and_a_boat_link(posted, settings):
    settings.PUBLIC_URL = "http://127.0.0.1:8099"
    sign_ins.keep({"orla": "cedar-and-copper-9"})
    told = printed()
    assert "Mask and drape" in told
    assert "Sign in at http://127.0.0.1:8099 as" in told
    assert "orla / cedar-and-copper-9  orla, who sees the week" in told
    assert "What the customer sees of Second Wind" in told
    assert "http://127.0.0.1:8099/boat/" in told


def test_a_sign_in_that_was_lost_says_how_to_get_a_new_one(posted):
    assert "orla / (run the demo with --fresh for one)" in printed()


def test_the_sign_ins_are_for_their_owners_eyes(data):
    sign_ins.keep({"orla": "cedar-and-copper-9"})
    (file,) = data.iterdir()
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert json.loads(file.read_text()) == {"orla": "cedar-and-copper-9"}


@pytest.mark.parametrize("option", ["fresh", "keep"])
def test_an_outfit_on_the_real_clock_is_left_alone(posted, option):
    Outfit.objects.update(stands_at=None)
    with pytest.raises(CommandError, match="not the demo's, and were left as they are"):
        call_command("demo", **{option: True})
    assert WeekPlan.objects.filter(state="standing").exists()


def test_ctrl_c_asks_the_planner_to_stop_and_says_how_to_go_on(data, monkeypatch):
    plans.wash(plans.outfit())
    plans.owner()

    class Pressed:
        def wait(self, _seconds: float) -> None:
            raise KeyboardInterrupt

    monkeypatch.setattr(demo, "call_command", lambda *_, **__: None)
    monkeypatch.setattr(demo, "running", contextlib.nullcontext)
    monkeypatch.setattr(demo.threading, "Event", Pressed)
    monkeypatch.setattr(demo.sweep, "delay", lambda: None)
    monkeypatch.setattr(demo.Command, "_judge", lambda _self: None)
    with pytest.raises(CommandError, match=r"Stopped\. Run it again") as ended:
        call_command("demo", keep=True, stdout=StringIO())
    assert ended.value.returncode == 130
    assert WeekPlan.objects.get().stop_asked


def test_it_makes_its_tables_first(data, tmp_path):
    environ = os.environ | {"LEEBOARD_DATA": str(tmp_path)}
    environ.pop("DATABASE_URL", None)
    program = (
        "import django; django.setup()\n"
        "from dispatch.cli.management.commands import demo\n"
        "demo.Command._prepare = lambda _: None\n"
        "demo.Command().run_from_argv(['manage.py', 'demo', '--fresh'])"
    )
    environ["DJANGO_SETTINGS_MODULE"] = "dispatch.config.settings"
    run = subprocess.run(
        [sys.executable, "-c", program],
        cwd=settings.BASE_DIR,
        env=environ,
        capture_output=True,
        check=False,
        text=True,
        timeout=50,
    )
    assert "No week stands. Run the demo again with --fresh." in run.stderr
    assert "Traceback" not in run.stderr
