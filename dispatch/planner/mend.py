"""What would let a job in that found no room, as a frozen value."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Mend:
    """One thing that would let a job in, or what it would push out.

    All empty: nothing was found, with `tried` after all was tried.

    `says` is that one thing in words, `pushes_out` the ids of the stages that would lose their
    visit, `cents` what the week then costs more (below 0: less; None where neither is known).
    `never` is the stage of the job for which no place was found even in a week with nothing else in it.
    """

    says: str = ""
    pushes_out: tuple[str, ...] = ()
    cents: float | None = None
    never: str = ""
    tried: bool = False
