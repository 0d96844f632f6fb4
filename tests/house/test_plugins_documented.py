"""Every hook is its own manual, every option of a plugin is in its README."""

import inspect

import pytest

from dispatch.hooks import registry, specs, values
from tests.house.tree import DISPATCH, ROOT

SOCKET_README = (DISPATCH / "hooks" / "README.md").read_text()
FOUND = registry.found()
OPTIONS = [
    (one.name, option.name)
    for one in FOUND
    if one.manifest
    for option in one.manifest.options
]


def test_there_are_hooks_and_options_to_look_for():
    assert {"forecast", "send", "vetoes"} <= set(specs.HOOKS)
    assert ("weather_file", "folder") in OPTIONS


@pytest.mark.parametrize("name", specs.HOOKS)
def test_each_hook_tells_its_argument_and_its_answer(name):
    hook = getattr(specs.Socket, name)
    manual = inspect.getdoc(hook) or ""
    signature = inspect.signature(hook)
    arguments = [arg for arg in signature.parameters.values() if arg.name != "self"]
    assert arguments
    for argument in arguments:
        assert f"``{argument.name}``" in manual
        assert f"``{argument.annotation.__name__}``" in manual
    assert f"``{signature.return_annotation.__name__}``" in manual


@pytest.mark.parametrize("name", specs.HOOKS)
def test_each_hook_is_in_the_rooms_readme(name):
    assert f"| `{name}` |" in SOCKET_README


@pytest.mark.parametrize("name", specs.HOOKS)
def test_each_hook_comes_with_a_plugin_that_needs_it(name):
    assert [one.name for one in FOUND if one.manifest and name in one.manifest.hooks]


@pytest.mark.parametrize(("plugin", "option"), OPTIONS)
def test_each_option_has_its_row_in_the_plugins_readme(plugin, option):
    readme = (ROOT / "plugins" / plugin / "README.md").read_text()
    assert f"| `{option}` |" in readme


SHIPPED = sorted(
    path.name
    for path in (ROOT / "plugins").iterdir()
    if path.is_dir() and path.name[0] not in "._"
)
# What a house needs of each kind; the rest may be taken away without a word here.
KINDS = {
    "drives": {"drive_times_http", "drive_times_table"},
    "forecast": {"weather_columnar", "weather_file", "weather_gridpoint"},
    "hear": {"notify_sms_http"},
    "price": {"price_by_season"},
    "publish": {"calendar_feed", "export_csv"},
    "send": {"notify_email", "notify_file", "notify_sms_http", "notify_sms_smpp"},
    "vetoes": {"site_hours", "sun_veto", "tide_gate", "weather_veto"},
}


def test_every_folder_is_a_plugin_that_fits():
    assert {one.name: one.refused for one in FOUND if one.refused} == {}
    assert {one.name for one in FOUND} >= set(SHIPPED)


def test_every_hook_is_answered_by_the_plugins_that_ship():
    answered = {
        hook: {one.name for one in FOUND if one.manifest and hook in one.manifest.hooks}
        for hook in specs.HOOKS
    }
    assert {hook: answered[hook] >= names for hook, names in KINDS.items()} == (
        dict.fromkeys(specs.HOOKS, True)
    )


@pytest.mark.parametrize("name", SHIPPED)
def test_each_shipped_plugin_has_a_readme_a_test_and_keeps_the_contract(name):
    """Its options and hooks against its README and its object are in `tests/plugins/test_contract.py`."""
    readme = (ROOT / "plugins" / name / "README.md").read_text()
    assert readme.startswith(f"# {name}\n")
    assert f"tests/plugins/test_{name}.py" in readme
    test = ROOT / "tests" / "plugins" / f"test_{name}.py"
    assert "def test_" in test.read_text()
    assert f'"{name}"' in test.read_text(), "its test asks another plugin"


def test_each_value_that_crosses_says_what_it_is():
    types = [
        kind
        for kind in vars(values).values()
        if inspect.isclass(kind) and kind.__module__ == values.__name__
    ]
    assert len(types) > 5
    assert [kind.__name__ for kind in types if not kind.__doc__] == []
