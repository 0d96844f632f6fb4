"""The project speaks of itself alone: no machine's paths, no registry's host, no secret."""

import re

import pytest

from tests.house.tree import ROOT, project_files, text_of

SELF = "tests/house/test_secrets_and_paths.py"
FORBIDDEN = {
    "a path of one machine": re.compile(
        r"(?<![\w.])/(?:work|home|tmp|root|Users)/[\w.]"
    ),
    "a folder beside the project": re.compile(r"\.\./shared"),
    "an index of packages": re.compile(
        r"pypi\.org|pythonhosted|--(?:extra-)?index-url|--trusted-host", re.IGNORECASE
    ),
    "a private key": re.compile(r"-----BEGIN [A-Z ]*PRIVATE KEY"),
}
TEXTS = [
    path
    for path in project_files()
    if text_of(path) and str(path.relative_to(ROOT)) != SELF
]


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_committed_file_holds(what):
    found = [
        f"{path.relative_to(ROOT)}: {hit.group()}"
        for path in TEXTS
        for hit in FORBIDDEN[what].finditer(text_of(path))
    ]
    assert found == []
