"""Which stage of a job is put in first, what one waits for, and whether hours are left at all."""

from dispatch.planner.core.dice import pick, roll
from dispatch.planner.core.jit import fast
from dispatch.planner.core.price import in_plan
from dispatch.planner.core.shapes import Given, Week

TIGHTEST = 0.5  # how often from the stage with the fewest starts, else from any


@fast
def waits(given: Given, week: Week, stage: int, excused: int) -> bool:
    """Whether something the stage follows is in the plan and not placed, other than of one job."""
    row = given.stages[stage]
    for b in range(row.before[0], row.before[1]):
        other = given.before[b].stage
        if given.stages[other].job == excused:
            continue
        if week.seen[other].route < 0 and in_plan(given, week, other):
            if given.stages[other].block != row.block:
                return True
    return False


@fast
def is_tight(given: Given, stage: int) -> bool:
    """Whether a stage must not lie too long after another, or another after it."""
    row = given.stages[stage]
    for b in range(row.before[0], row.before[1]):
        if given.before[b].high >= 0 and given.before[b].same == 0:
            return True
    for b in range(row.then[0], row.then[1]):
        if given.then[b].high >= 0 and given.then[b].same == 0:
            return True
    return False


@fast
def root_of(given: Given, week: Week, job: int) -> int:
    """Return where in the order the missing stage with the fewest starts is, or any, as luck has it."""
    row, least = given.jobs[job], 1e18
    found, tightest = row.stages[0], roll(week.dice) < TIGHTEST
    for k in range(row.stages[0], row.stages[1]):
        stage = given.order[k]
        if given.stages[stage].extra != 0 or week.seen[stage].route >= 0:
            continue
        if not in_plan(given, week, stage):
            continue
        key = roll(week.dice)
        if tightest:
            key = starts(given, stage) * (1.0 + 0.5 * key)
        if key < least:
            least, found = key, k
    return found


@fast
def starts(given: Given, stage: int) -> float:
    """Return the minutes in which a stage can start, whatever else is planned."""
    total, days = 0, given.n_days
    low, high = given.window_at[stage * days], given.window_at[stage * days + days]
    for w in range(low, high):
        span = given.windows[w].end - given.windows[w].start
        total += max(0, span - given.stages[stage].quickest)
    return float(total)


@fast
def has_hours(given: Given, stage: int) -> bool:
    """Whether a stage has a window at all."""
    first = stage * given.n_days
    return bool(given.window_at[first] < given.window_at[first + given.n_days])


@fast
def is_hopeless(given: Given, week: Week, job: int) -> bool:
    """Whether nothing that is missing of a job has hours, in any of its variants."""
    row = given.jobs[job]
    for k in range(row.stages[0], row.stages[1]):
        stage = given.order[k]
        if week.seen[stage].route < 0 and has_hours(given, stage):
            return False
    return True


@fast
def is_open(given: Given, week: Week, job: int, way: int) -> bool:
    """Whether every missing stage that the job needs in a variant (-1: it has none) has hours."""
    row = given.jobs[job]
    for k in range(row.stages[0], row.stages[1]):
        stage = given.order[k]
        if given.stages[stage].extra != 0 or week.seen[stage].route >= 0:
            continue
        variant = given.stages[stage].variant
        if (variant < 0 or variant == way) and not has_hours(given, stage):
            return False
    return True


@fast
def open_way(given: Given, week: Week, job: int) -> int:
    """Return a variant, by luck, in which a job could be done (-1 where it has none), -2 for none."""
    ways = given.jobs[job].variants
    if ways == 0:
        return -1 if is_open(given, week, job, -1) else -2
    at = pick(week.dice, ways)
    for k in range(ways):
        way = (at + k) % ways
        if is_open(given, week, job, way):
            return way
    return -2


@fast
def begun(given: Given, week: Week, job: int) -> bool:
    """Whether a stage of the variant chosen is placed or pinned."""
    row = given.jobs[job]
    for k in range(row.stages[0], row.stages[1]):
        stage = given.stages[given.order[k]]
        if stage.variant >= 0:
            if week.seen[given.order[k]].route >= 0 or stage.pin >= 0:
                return True
    return False
