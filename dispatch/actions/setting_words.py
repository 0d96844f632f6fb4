"""Plain words for each rate and limit: what it is called, and where its default comes from."""

from collections.abc import Mapping

from dispatch.actions import setting_subjects

COMMON = "Common practice of the trade."
OURS = "Our assumption."
LEARNT = "Our assumption, until you have timed it yourself."
WALL = "Common practice; nobody may go below it."

_SINGLE: Mapping[str, tuple[str, str]] = {
    "labour.long_boat_ft": ("A boat counts as long from", OURS),
    "labour.long_boat_power": ("Power of the length above that", OURS),
    "labour.generator": ("Place without power: minutes grow", LEARNT),
    "labour.no_water": ("Place without water: minutes grow", LEARNT),
    "labour.float_work": ("Work from a float: minutes grow", LEARNT),
    "labour.worth_of_third": ("In a team of 3 each pair of hands is worth", LEARNT),
    "labour.worth_of_fourth": ("In a team of 4 each pair of hands is worth", LEARNT),
    "labour.late_first": (
        "Four in five first-time boats keep to the estimate times",
        LEARNT,
    ),
    "labour.late_returning": (
        "Four in five boats that come back keep to it times",
        LEARNT,
    ),
    "shape.skiff": ("Skiff", OURS),
    "shape.centre-console": ("Centre console", OURS),
    "shape.cuddy": ("Cuddy", OURS),
    "shape.sail": ("Sailing boat's topsides", OURS),
    "shape.cabin": ("Cabin boat", OURS),
    "shape.lapstrake": ("Lapstrake", OURS),
    "coverage.oz_per_ft2_coat": (
        "Product for one coat",
        "Our assumption; two coats of a 20 ft hull then take about 32 oz, which is common practice.",
    ),
    "coverage.electric_waste": ("The little electric gun: product grows", OURS),
    "coverage.breeze_gust_ms": ("A breeze is a gust above", OURS),
    "coverage.breeze_waste": ("In a breeze: product grows by", OURS),
    "coverage.trainee_waste": (
        "Only trainees on the gun: product grows by",
        OURS,
    ),
    "coverage.carry_reserve": ("Carried on top, in case", OURS),
    "day.break_minutes": ("Break", WALL),
    "day.break_after_minutes": (
        "Break begins after at most",
        "Common practice; nobody may go above it.",
    ),
    "day.longest_visit_minutes": ("Longest visit a team is given", OURS),
    "day.load_out_minutes": ("Loading at the base before a van drives off", OURS),
    "day.pack_up_minutes": (
        "Packing up before a van drives on to the next place",
        OURS,
    ),
    "travel.circuity": ("Roads are longer than a straight line", LEARNT),
    "travel.km_per_hour": ("Speed on the road", LEARNT),
    "travel.start_minutes": ("Getting under way", LEARNT),
    "extras.cloths_minutes": ("Rig shade cloths at transom and rail, labour", OURS),
    "extras.turn_minutes": ("Turn her on the trailer, labour", LEARNT),
    "extras.turning_room_factor": ("Room to turn, of her length", OURS),
    "extras.turning_worth_minutes": (
        "A turn is offered when it saves a day, or waiting for shade of more than",
        OURS,
    ),
    "extras.small_fill_ref_h": ("Small fill must be left", COMMON),
    "extras.medium_fill_ref_h": ("Medium fill must be left", COMMON),
    "extras.large_fill_ref_h": ("Large fill must be left", COMMON),
    "customers.from_clock": ("Messages from", OURS),
    "customers.until_clock": ("Messages until", OURS),
    "customers.wet_from_clock": ("Warnings of wet film from", OURS),
    "customers.wet_until_clock": ("Warnings of wet film until", OURS),
    "customers.ahead_clock": ("Told two working days before, at", OURS),
    "customers.eve_clock": ("Told the evening before, at", OURS),
    "customers.eve_wait_minutes": ("Which waits for a new forecast for", OURS),
    "customers.morning_clock": ("Told that morning, from", OURS),
    "customers.yearly_days": ("A look at the finish is offered after", COMMON),
    "customers.before_minutes": ("We say we come from, before the planned time", OURS),
    "customers.after_minutes": ("We say we come by, after the planned time", OURS),
    "customers.care_days": ("A new finish is to be treated with care for", COMMON),
    "customers.link_days": ("A boat's page stays open after hand-back", OURS),
    "crew.cover_told": ("Told when wet film is to be covered: 1 yes, 0 no", OURS),
    "crew.owner_told": (
        "The owner is told when rain or dew comes to wet film: 1 yes, 0 no",
        OURS,
    ),
    "crew.gate_wait_minutes": ("Where nobody can get to a boat, wait", OURS),
    "board.stale_hours": ("A forecast is old after", OURS),
    "board.promise_spare_minutes": ("A hard date is tight with less than", OURS),
    "board.sky_spare_minutes": ("A sprayed visit is tight with less than", OURS),
    "board.overran_minutes": ("A visit overran if it took longer by", OURS),
    "board.full_day_pct": (
        "A day is full with more planned, of the hours people are there, than",
        OURS,
    ),
    "board.full_late_day_pct": (
        "A day is full if late it would take, of those hours, more than",
        OURS,
    ),
    "half_day.count": ("Half-days left empty on Thursday or Friday", OURS),
    "half_day.minutes": ("A half-day is, in one piece", OURS),
    "half_day.rush_count": ("Left empty where many boats are new here", OURS),
    "half_day.first_timers_pct": ("Many are more than", OURS),
    "promises.near_days": ("Working days kept for the weather", OURS),
    "promises.far_days": (
        "The same where the work is far ahead, and in March, April and October",
        OURS,
    ),
    "promises.far_after_days": ("Far ahead is more than", OURS),
    "shifts.hood_minutes": (
        "In an air-fed hood a day, at most",
        "Our assumption; nobody may go above it.",
    ),
    "shifts.gap_minutes": (
        "Off between two days, at least",
        "Our assumption; nobody may go below it.",
    ),
    "shifts.site_minutes": ("On site a day, at most", OURS),
    "shifts.reentry_minutes": ("Back to a boat after two-part, not before", WALL),
    "shifts.bystander_m": (
        "Without a hood, keep off two-part by",
        "Our assumption; nobody may go below it.",
    ),
    "supply.lead_days": ("The supplier, on working days only, takes", OURS),
    "supply.spare_hours": ("Ordered before that, to spare", OURS),
    "supply.cutoff_clock": ("The supplier takes a day's orders until", OURS),
    "prices.grade_1": ("Grade 1, glossy: by length", OURS),
    "prices.grade_2": ("Grade 2, dull: by length", OURS),
    "prices.grade_3": ("Grade 3, chalking: by length", OURS),
    "prices.grade_4": ("Grade 4, peeling: by length", OURS),
    "prices.repair_small_cents": ("A small repair", OURS),
    "prices.repair_medium_cents": ("A medium repair", OURS),
    "prices.repair_large_cents": ("A large repair", OURS),
    "prices.free_km": ("The drive from the base is free up to", OURS),
    "prices.cents_per_km": ("Beyond that it costs", OURS),
    "prices.in_vain_cents": ("Having come in vain, where you put it on a job", OURS),
    "planning.value_factor": ("A job left out costs its worth", OURS),
    "planning.least_value_cents": ("A job's least worth", OURS),
    "planning.bumped_value_cents": ("Its least worth once it gave way", OURS),
    "planning.extra_cents": ("An extra left out, as numbers and decals, costs", OURS),
    "planning.told_day_cents": ("Another day, or none, than people were told", OURS),
    "planning.told_shift_cents": ("Another hour than people were told", OURS),
    "planning.told_hour_cents": ("Each hour of that on top", OURS),
    "planning.told_within_minutes": ("Nobody minds another hour within", OURS),
    "planning.tight_sky_cents": ("A sprayed visit with nothing to spare", OURS),
    "surface.clear_night_k": ("Clear night: hull against the air", OURS),
    "surface.clear_below_cloud_pct": ("A night counts as clear below cloud of", OURS),
    "surface.white_sun_k": ("White hull in the sun: warmer by", OURS),
    "surface.dark_sun_k": ("Dark hull in the sun: warmer by", OURS),
    "strain.shade_air_c": (
        "Water and shade from air above",
        "California's rule for work outdoors (8 CCR 3395).",
    ),
    "strain.shade_index_c": (
        "Water and shade from a heat index of",
        "Maryland's and Oregon's rules.",
    ),
    "strain.rest_air_c": ("Rest 10 min in every hour from air of", OURS),
    "strain.rest_index_c": (
        "Rest 10 min in every 2 h from a heat index of",
        "Maryland's rule (COMAR 09.12.32.08).",
    ),
    "strain.high_index_c": (
        "Rest 15 min in every hour from a heat index of",
        "Maryland's rule; just on it, the stricter is taken.",
    ),
    "strain.high_air_c": (
        "Watch one another from air of",
        "California's rule, for some trades only.",
    ),
    "strain.work_watts": (
        "Where WBGT decides: how hard the work is",
        "NIOSH 2016-106: light 180, moderate 300, heavy 415 W.",
    ),
    "strain.chill_c": ("Warm up from a wind chill of", OURS),
    "limits.rain_prob_pct": ("An hour counts as rain from a chance of", OURS),
    "limits.rain_mm": ("An hour counts as rain from", OURS),
    "limits.rain_margin_minutes": ("Rain-safe this long before rain", OURS),
    "limits.rain_margin_least_minutes": (
        "You may cut that margin to",
        "Our assumption; nobody may go below an hour.",
    ),
    "limits.confidence_hours": ("A forecast counts as it is for", OURS),
    "limits.confidence_factor": ("After that the margin before rain grows", OURS),
    "limits.reading_hours": (
        "What was read on a hull counts for",
        "US military painting practice measures about every 4 h (MIL-HDBK-1110, 9.6.6).",
    ),
    "limits.likely_hours": ("From here on an answer is only likely", OURS),
    "limits.fresh_hours": ("A forecast counts as fresh for", OURS),
    "limits.age_doubles_hours": (
        "Older, margin and cure range grow by as much again each",
        OURS,
    ),
    "limits.ask_hours": ("Two-part is asked about by a forecast older than", OURS),
    "limits.shade_cloud_pct": ("Cloud counts as open shade from", OURS),
    "limits.flare_deg": ("The top of a side leans out by", OURS),
    "limits.dark_rest_minutes": ("Dark hull rests in shade after sun", OURS),
    "limits.white_rest_minutes": ("White hull rests in shade after sun", OURS),
    "limits.dry_minutes": ("Hull dries after dew or rain", OURS),
    "limits.wait_enough_pct": (
        "Waits by warmth are planned long enough in this much of their hours",
        OURS,
    ),
    "limits.water_clear_m": ("Nothing is sprayed this near open water", WALL),
    "limits.drift_base_m": ("Clear distance all round", WALL),
    "limits.drift_m_per_ms": ("Grows downwind, by gust", OURS),
    "limits.drift_free_gust_ms": ("It grows from a gust of", OURS),
    "limits.drift_half_angle_deg": ("Downwind reaches to each side", OURS),
    "limits.drift_electric": ("The little electric gun: distance is", OURS),
    "limits.drift_screened": ("Behind side-screens: distance is", OURS),
}
_FAMILY: Mapping[str, tuple[str, str]] = {
    "air_min_c": ("Air at least", OURS),
    "air_max_c": ("Air at most", OURS),
    "surface_min_c": ("Surface at least", OURS),
    "surface_max_c": ("Surface at most", OURS),
    "rh_min_pct": ("Humidity at least", OURS),
    "rh_max_pct": ("Humidity at most", OURS),
    "spread_min_k": ("Surface above the dew point by", OURS),
    "wind_max_ms": ("Steady wind at most", OURS),
    "gust_max_ms": ("Gust at most", OURS),
    "screened_wind_max_ms": ("Steady wind behind side-screens at most", OURS),
    "screened_gust_max_ms": ("Gust behind side-screens at most", OURS),
    "rain_max_mm": ("Rain at most", OURS),
    "dry_after_minutes": ("Dry afterwards for", OURS),
}
_COMMON_LIMITS = {
    "gelcoat.rh_max_pct",
    *(f"{f}.spread_min_k" for f in ("gelcoat", "spray", "wipe-on")),
}
# The order of a page: as one would say it, not by the alphabet.
_ORDER = (*_SINGLE, *_FAMILY)


def label(name: str) -> str:
    """What a setting is called within its subject."""
    return _told(name)[0]


def source(name: str) -> str:
    """Where a setting's default comes from."""
    return COMMON if name in _COMMON_LIMITS else _told(name)[1]


def titled(name: str) -> str:
    """What a setting is called where its subject is not in sight."""
    return (
        f"{setting_subjects.of(name).name}: {label(name)[:1].lower()}{label(name)[1:]}"
    )


def quoted(name: str) -> str:
    """What a setting is called within a sentence of its subject: Spray: “Gust at most”."""
    return f"{setting_subjects.of(name).name}: “{label(name)}”"


def place(name: str) -> tuple[int, str]:
    """Where a setting stands among those of its subject."""
    own = name if name in _SINGLE else name.partition(".")[2]
    return (_ORDER.index(own) if own in _ORDER else len(_ORDER), name)


def _told(name: str) -> tuple[str, str]:
    if name in _SINGLE:
        return _SINGLE[name]
    group, _, own = name.partition(".")
    if group == "water":
        return _water(own), OURS
    if group == "waits":
        return _wait(own), COMMON
    if group == "learnt":
        return _learnt(own), "What your crew reported, once you took it over."
    return _FAMILY[own]


def _water(own: str) -> str:
    """As ``spray-coat.prep``: the kind of job, and the visit."""
    kind, _, visit = own.partition(".")
    return f"{kind.replace('-', ' ').capitalize()}, {visit} visit"


def _wait(own: str) -> str:
    """As ``spray-coat.port.mask``: the kind of job, the visit, and the one it follows."""
    kind, visit, before = (part.replace("-", " ") for part in own.split("."))
    return f"{kind.capitalize()}, {visit} after {before}"


def _learnt(own: str) -> str:
    """As ``spray-coat.2``: the kind of job, and the grade."""
    kind, _, grade = own.partition(".")
    return f"{kind.replace('-', ' ').capitalize()}, grade {grade}, takes the catalogue's minutes"
