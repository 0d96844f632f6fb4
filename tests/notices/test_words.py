"""People read plain sentences with the times in them, in the zone of the place."""

from dataclasses import replace
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from dispatch.notices import words
from dispatch.notices.reasons import (
    About,
    Agreed,
    Ahead,
    Arrival,
    Came,
    Cover,
    CoverSettled,
    FilmThreat,
    FilmWet,
    Morning,
    Moved,
    Occasion,
    Pickup,
    Reason,
    Yearly,
)
from dispatch.notices.segments import measure
from dispatch.trade.spans import Span

ABOUT = About(
    outfit="Tarrow & Daughter",
    boat="Second Wind",
    place="Marrow Road",
    zone=ZoneInfo("America/New_York"),
)
HOUR = Span(
    datetime(2027, 5, 24, 12, 10, tzinfo=UTC), datetime(2027, 5, 24, 13, 10, tzinfo=UTC)
)
NIGHT = Span(
    datetime(2027, 5, 25, 2, 30, tzinfo=UTC), datetime(2027, 5, 25, 16, 5, tzinfo=UTC)
)
ARRIVAL = Arrival(
    about=ABOUT,
    arrives=HOUR,
    doing=("wash", "prep", "masking"),
    prepare=("take the cover off", "leave the water on"),
)
FRIDAY, SATURDAY = date(2027, 5, 21), date(2027, 5, 22)
MOVED = Moved(
    about=ABOUT, days=(FRIDAY,), arrives=HOUR, why="rain is forecast from 14:00."
)
PICKUP = Pickup(about=ABOUT, ready_at=HOUR.end, care_days=14)
FILM_WET = FilmWet(about=ABOUT, panels=("port", "transom"), cover=NIGHT)
AHEAD = Ahead(about=ABOUT, arrives=HOUR)
MORNING = Morning(about=ABOUT, arrives=HOUR)
CAME = Came(about=ABOUT, waited=HOUR)
YEARLY = Yearly(about=ABOUT, finished_on=date(2026, 5, 24))
AGREED = Agreed(
    about=ABOUT,
    what="Full spray coat",
    done=(HOUR.start, NIGHT.end),
    prepare=("Move cars away from her and leave the gate open.",),
)
COVER = Cover(
    about=ABOUT,
    by=HOUR.end,
    using="Loft",
    threat="rain (80 %) comes Mon 09:25",
    safe=NIGHT.start,
)
COVERED = CoverSettled(about=ABOUT, since=HOUR.start, who="Rook Ferrante")
THREAT = FilmThreat(
    about=ABOUT,
    panels=("the port side",),
    threat="rain (80 %) comes Mon 09:25",
    at=HOUR.end,
    by=HOUR.end,
    asked="",
    safe=NIGHT.start,
)
ALL = [
    *(AGREED, AHEAD, ARRIVAL, MORNING, MOVED, CAME),
    *(PICKUP, FILM_WET, YEARLY, COVER, COVERED, THREAT),
]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({}, "We plan to have it done between Mon 24 May and Tue 25 May"),
        ({"done": (HOUR.start, HOUR.end)}, "done on Mon 24 May, if the weather lets"),
        ({"hard": True}, "It is to be done by Tue 25 May 12:05."),
        ({"done": None}, "The days are not settled yet."),
    ],
)
def test_what_is_agreed_is_told_with_its_days_and_what_to_prepare(changes, said):
    text = words.write(replace(AGREED, **changes)).text
    assert "agreed, full spray coat at Marrow Road" in text
    assert said in text
    assert "Move cars away from her" in text


def test_an_arrival_is_a_range_in_the_places_zone() -> None:
    said = words.write(ARRIVAL)
    assert said.subject == "Second Wind: we come Mon 24 May between 08:10 and 09:10"
    assert said.text == (
        "Second Wind: our crew will be with you at Marrow Road Mon 24 May between 08:10 and 09:10. "
        "Before then, please take the cover off and leave the water on. "
        "Planned: wash, prep and masking. If the weather moves it, we will tell you."
    )


def test_an_arrival_without_requests_asks_for_nothing() -> None:
    said = words.write(replace(ARRIVAL, prepare=(), doing=()))
    assert "please" not in said.letter
    assert "Planned" not in said.letter


def test_a_move_tells_the_new_range_and_the_reason_once() -> None:
    assert words.write(MOVED).text == (
        "Second Wind: our visit of Fri 21 May at Marrow Road has moved. "
        "We will now be with you Mon 24 May between 08:10 and 09:10. "
        "Reason: rain is forecast from 14:00."
    )


def test_that_the_crew_came_in_vain_is_told_with_its_time_and_what_to_do() -> None:
    said = words.write(CAME)
    assert said.subject == "Second Wind: we came and could not get to the boat"
    assert said.text == (
        "Second Wind: our crew was at Marrow Road Mon 24 May between 08:10 and 09:10 and could not get to the boat. "
        "Please answer or call, so that we can agree on when to come again."
    )


def test_a_move_whose_new_time_is_unknown_says_so() -> None:
    assert "not settled yet" in words.write(replace(MOVED, arrives=None)).text


def test_several_days_that_do_not_hold_are_named_in_one_message() -> None:
    said = words.write(replace(MOVED, days=(FRIDAY, SATURDAY), arrives=None))
    assert said.subject == "Second Wind: our visits have moved"
    assert said.text.startswith(
        "Second Wind: our visits of Fri 21 May and Sat 22 May at Marrow Road have moved. "
    )


def test_a_visit_that_nothing_comes_of_is_off_and_promises_no_new_time() -> None:
    off = replace(MOVED, arrives=None, why="the job was called off", off=True)
    assert words.write(off).text == (
        "Second Wind: our visit of Fri 21 May at Marrow Road is off. "
        "Reason: the job was called off."
    )
    both = words.write(replace(off, days=(FRIDAY, SATURDAY)))
    assert both.subject == "Second Wind: our visits are off"


@pytest.mark.parametrize(
    ("changes", "missing"), [({"why": ""}, "reason"), ({"days": ()}, "day")]
)
def test_a_move_needs_its_reason_and_its_day(changes, missing) -> None:
    with pytest.raises(ValueError, match=missing):
        replace(MOVED, **changes)


def test_a_pickup_tells_from_when_and_what_to_keep_to() -> None:
    said = words.write(PICKUP)
    assert "at Marrow Road from Mon 24 May 09:10." in said.text
    assert (
        "For the first 14 days please ask us before you wash, polish or cover the boat."
        in said.text
    )
    assert "registration" not in said.letter
    assert "sheet" not in said.letter


@pytest.mark.parametrize(
    ("days", "says"),
    [
        (14, "For the first 14 days: Fresh water only, no wax."),
        (1, "On the first day: Fresh water only, no wax."),
        (0, ""),
    ],
)
def test_care_is_told_in_the_outfits_own_words_for_its_own_days(days, says) -> None:
    told = replace(PICKUP, care_days=days, care="Fresh water only,\nno wax.")
    assert says in words.write(told).letter
    assert ("Fresh water" in words.write(told).letter) is bool(days)


def test_work_whose_names_have_commas_is_told_apart() -> None:
    doing = ("Mask and drape", "Spray port, two coats", "Unmask")
    assert "Planned: mask and drape; spray port, two coats; unmask. " in (
        words.write(replace(ARRIVAL, doing=doing, prepare=())).text
    )


def test_a_boat_without_its_numbers_is_told() -> None:
    said = words.write(replace(PICKUP, numbers_off=True))
    assert "registration numbers are not on the boat" in said.text


def test_wet_film_tells_what_not_to_do_and_when_by_a_range() -> None:
    assert words.write(FILM_WET).text == (
        "Second Wind: the film on port and transom is wet. "
        "Please do not touch, wash or cover the boat, and keep sprinklers off. "
        "We expect it to be hard enough to cover between Mon 24 May 22:30 and Tue 25 May 12:05; "
        "please wait for the later time."
    )


def test_wet_film_of_unknown_end_is_said_to_be_unknown() -> None:
    said = words.write(replace(FILM_WET, cover=None)).text
    assert "do not know yet when it can be covered" in said
    with pytest.raises(ValueError, match="panel"):
        FilmWet(about=ABOUT, panels=(), cover=None)


@pytest.mark.parametrize("occasion", ALL, ids=lambda told: told.reason)
def test_a_text_is_plain_and_at_most_two_segments(occasion: Occasion) -> None:
    long = replace(occasion.about, boat="Gannet\N{RIGHT SINGLE QUOTATION MARK}s " * 6)
    found = measure(words.write(replace(occasion, about=long)).text)
    assert found.alphabet == "GSM-7"
    assert found.count <= 2


@pytest.mark.parametrize("occasion", ALL, ids=lambda told: told.reason)
def test_a_letter_holds_all_of_the_text_and_who_writes(occasion: Occasion) -> None:
    said = words.write(occasion)
    assert said.letter.startswith("Hello,\n\n")
    assert said.letter.endswith("\n\nTarrow & Daughter\n")
    assert " ".join(said.letter.split("\n\n")[1:-1]).startswith(said.text)


@pytest.mark.parametrize("occasion", ALL, ids=lambda told: told.reason)
def test_nothing_is_ever_called_safe(occasion: Occasion) -> None:
    assert "safe" not in words.write(occasion).letter


def test_every_language_has_words_for_every_reason() -> None:
    for language in words.LANGUAGES.values():
        assert set(language.says) == set(Reason)
    assert {told.reason for told in ALL} == set(Reason)


def test_a_language_we_do_not_have_is_answered_in_english() -> None:
    assert words.write(ARRIVAL, "tlh") == words.write(ARRIVAL, "en")


def test_two_days_ahead_it_is_likely_or_it_is_said_why_not() -> None:
    assert words.write(AHEAD).text == (
        "Second Wind: we plan to be with you at Marrow Road Mon 24 May between 08:10 and 09:10. "
        "As the forecast stands, the weather allows it. We will write again the evening before."
    )
    doubtful = replace(AHEAD, doubt="Rain 0.18 in, chance 90 %.")
    said = words.write(doubtful).text
    assert "The weather may not allow it: Rain 0.18 in, chance 90 %." in said
    assert "allows it" not in said


def test_the_evening_before_and_that_morning_a_doubt_is_told_too() -> None:
    for told in (ARRIVAL, MORNING):
        said = words.write(replace(told, doubt="it is not known"))
        assert "The weather may not allow it: it is not known." in said.letter


def test_that_morning_it_is_today() -> None:
    said = words.write(MORNING)
    assert said.subject == "Second Wind: we come today"
    assert "today, Mon 24 May between 08:10 and 09:10." in said.text


def test_a_year_on_it_tells_since_when_and_what_to_do() -> None:
    said = words.write(YEARLY).text
    assert "we finished the boat on Sun 24 May 2026." in said
    assert "Answer this message or call" in said


def test_the_crew_is_told_what_to_cover_by_when_with_what_and_why() -> None:
    assert words.write(COVER).text == (
        "Cover the wet film of Second Wind at Marrow Road by Mon 24 May 09:10, with Loft: rain (80 %) comes Mon 09:25. "
        "It must be kept from rain and dew until about Mon 24 May 22:30. Touch no film. "
        "No roof goes up with one person alone, nor in strong gusts."
    )
    unknown = words.write(replace(COVER, by=None, safe=None, threat=""))
    assert unknown.subject == "Cover Second Wind now"
    assert "is not known. Touch no film." in unknown.text
    assert "Say on your route when she is covered" in unknown.letter


def test_the_crew_is_told_that_nobody_need_go() -> None:
    assert words.write(COVERED).text == (
        "Second Wind at Marrow Road is covered since Mon 24 May 08:10, says Rook Ferrante. Nobody else need go."
    )
    off = words.write(replace(COVERED, since=None)).text
    assert off.endswith("no cover is wanted any more. Nobody need go.")


def test_the_owner_is_told_what_comes_by_when_to_cover_and_what_to_mind() -> None:
    assert words.write(THREAT).text == (
        "Second Wind at Marrow Road: rain (80 %) comes Mon 09:25 by the newest forecast, and the film on the port side is wet. "
        "Cover the boat by Mon 24 May 09:10: ask for it on the page of the week, or call the crew. "
        "It must be kept from rain and dew until about Mon 24 May 22:30. Touch no film."
    )
    asked = words.write(replace(THREAT, asked="Loft", by=None, safe=None))
    assert (
        "Loft is asked for, and nobody has said that it is on: it must be on now."
        in asked.text
    )
    assert "nor in strong gusts" in asked.letter


RINGS = replace(ABOUT, phone="+12075550100")


@pytest.mark.parametrize("occasion", ALL, ids=lambda told: told.reason)
def test_whom_to_ring_stands_in_every_message_but_the_owners_own(
    occasion: Occasion,
) -> None:
    said = words.write(replace(occasion, about=RINGS))
    assert said.letter.endswith("\n\nTarrow & Daughter\n+12075550100\n")
    rings = said.text.endswith(" Tarrow & Daughter, +12075550100")
    assert rings == (occasion.reason != Reason.FILM_THREAT)
    assert measure(said.text).count <= words.TEXT_SEGMENTS


@pytest.mark.parametrize("occasion", ALL, ids=lambda told: told.reason)
def test_every_message_names_the_boat_first_of_all(occasion: Occasion) -> None:
    said = words.write(occasion)
    assert "Second Wind" in said.subject
    assert "Second Wind" in said.text.partition(".")[0]


def test_the_number_to_ring_goes_before_what_matters_least() -> None:
    said = words.write(replace(COVER, about=RINGS)).text
    assert said.startswith("Cover the wet film of Second Wind")
    assert said.endswith("Touch no film. No roof goes up with one person alone, nor in strong gusts. Tarrow & Daughter, +12075550100")  # fmt: skip


def test_what_the_owner_tells_by_hand_has_no_number_to_ring() -> None:
    told = replace(MOVED, about=RINGS)
    assert words.by_hand(told) == words.write(MOVED).text
