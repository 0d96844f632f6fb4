"""What in a stage may harm people, by the names of its steps."""

from dispatch.records.models import Stage

# Steps with solvents or acids, by what the trade calls them.
_SOLVENT = ("strip", "deoxidi", "wipe", "acid", "decontaminat", "ceramic", "fill")


def uses_solvent(stage: Stage) -> bool:
    """Whether any step of a stage is done with solvents or acids."""
    names = (step["name"].lower() for step in stage.steps)
    return any(word in name for name in names for word in _SOLVENT)
