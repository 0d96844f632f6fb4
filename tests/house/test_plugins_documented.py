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


def test_each_value_that_crosses_says_what_it_is():
    types = [
        kind
        for kind in vars(values).values()
        if inspect.isclass(kind) and kind.__module__ == values.__name__
    ]
    assert len(types) > 5
    assert [kind.__name__ for kind in types if not kind.__doc__] == []
