"""The task app's rules: JSON, late acknowledgement, prompt and never early recovery."""

from dispatch.actions import sweeping
from dispatch.config import celery


def test_a_task_is_never_handed_out_again_while_it_may_still_run():
    for seconds in (2, 900, 7200):
        made = celery.rules("redis://x", seconds)
        assert (
            made["broker_transport_options"]["visibility_timeout"]
            > made["task_time_limit"]
        )


def test_a_task_is_acknowledged_late_in_json_and_leaves_no_result():
    made = celery.app.conf
    assert made.task_acks_late
    assert made.task_reject_on_worker_lost
    assert made.accept_content == ["json"]
    assert made.result_backend is None


def test_every_entry_of_the_timetable_is_a_task_of_the_house():
    celery.app.loader.import_default_modules()
    named = {entry["task"] for entry in celery.TIMETABLE.values()}
    assert named <= set(celery.app.tasks)


def test_search_weather_and_notices_have_queues_of_their_own():
    route = celery.app.amqp.router.route
    queues = {
        name: route({}, f"dispatch.tasks.{name}")["queue"].name
        for name in ("sweep.search", "sweep.weather", "forecasts.ask", "notices.drain")
    }
    assert queues == {
        "sweep.search": "search",
        "sweep.weather": "weather",
        "forecasts.ask": "weather",
        "notices.drain": "notices",
    }
    assert set(celery.app.amqp.queues) == set(celery.QUEUES)
    assert celery.app.conf.task_default_queue in celery.QUEUES


def test_every_verb_of_slow_work_is_in_one_lane():
    lanes = list(sweeping._LANES.values())
    assert sorted(verb for lane in lanes for verb in lane) == sorted(sweeping._VERBS)
