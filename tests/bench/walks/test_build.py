"""A week is built beside the one that stands, watched, and taken or left."""

from tests.bench.walks.hand import Hand


def test_a_build_is_watched_stopped_and_left(owner: Hand) -> None:
    owner.see("Standing since")
    owner.press("Build the week again")
    owner.see("the best week so far costs", within="Progress", seconds=60)
    owner.press("Stop, keep the best so far")
    owner.see("What this draft changes", seconds=60)
    owner.press("Leave it aside")
    owner.see("The draft is left aside.")
    owner.see("Standing since")
