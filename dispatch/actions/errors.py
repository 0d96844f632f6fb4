"""What an action says when it will not do what was asked."""


class Refused(Exception):  # noqa: N818 - it reads as what happened: the action refused
    """An action refused; its text is the sentence a person will read."""


class Stale(Refused):
    """Somebody else changed it first; nothing was overwritten."""


class Stranger(Refused):
    """The asker may not do or see this."""


class Unsure(Refused):
    """Nothing was stored yet: its text asks whether that is meant, and the same counts once somebody says so, by ``yes``."""

    def __init__(self, sentence: str, *, yes: str) -> None:
        super().__init__(sentence)
        self.yes = yes
