"""What the shipped plugins are asked in their tests, and options to make them with."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from dispatch.hooks.registry import Found, named
from dispatch.hooks.values import (
    DrivesAsk,
    ForecastAsk,
    HearAsk,
    Message,
    PostedVisit,
    PriceAsk,
    PriceLine,
    PublishAsk,
    Spot,
    VetoAsk,
)
from dispatch.trade.spans import Span
from dispatch.trade.work import Work
from tests.plugins import centre, gateway, mail_server, roads, sky_shapes
from tests.trade.lanternglass import ONE_PART, SITE, WEATHER, sky

NY = ZoneInfo("America/New_York")
WEEK = Span(datetime(2027, 5, 24, tzinfo=NY), datetime(2027, 5, 31, tzinfo=NY))
ISSUED = datetime(2027, 5, 23, 18, tzinfo=NY)
FORECAST_ASK = ForecastAsk(
    place_key="marrow-road", latitude=SITE.lat, longitude=SITE.lon, span=WEEK
)
DEMO_SKY = sky("forecast_issued_sun_1800", ISSUED)
SPRAY = Work(family="spray", site=SITE, quickest_minutes=90, sheet=ONE_PART)
VETO_ASK = VetoAsk(
    stage_key="J1-port",
    work=SPRAY,
    sky=DEMO_SKY,
    horizon=WEEK,
    units="us",
)
MESSAGE = Message(
    key="arrival/J1/7/ames/text",
    reason="arrival",
    channel="text",
    to="+12075550131",
    subject="",
    body="Second Wind: we come Monday between 08:10 and 09:10. Grüße, 東",
)

PUBLISH_ASK = PublishAsk(
    uid="5f0c",
    whose="Rook, the younger",
    at=ISSUED,
    visits=(
        PostedVisit(
            uid="b7d1",
            span=Span(WEEK.start, WEEK.start + timedelta(hours=1)),
            title="Second Wind; sand",
            where="Marrow Road",
            note="Van Knot",
            sure=True,
        ),
    ),
)

_SPOTS = (
    Spot(key="shop", latitude=44.1045, longitude=-69.1040),
    Spot(key="marrow-road", latitude=44.0800, longitude=-69.1950),
    Spot(key="oars-head", latitude=43.9660, longitude=-69.2055),
    Spot(key="the-loft", latitude=44.2110, longitude=-69.0630),
    Spot(key="ledge-pt", latitude=44.0160, longitude=-69.3420),
)
DRIVES_ASK = DrivesAsk(
    origins=_SPOTS,
    destinations=_SPOTS,
    circuity=1.35,
    km_per_hour=51.5,
    start_minutes=3.0,
)
PRICE_ASK = PriceAsk(
    job_key="j1",
    kind="spray-coat",
    length_m=6.096,
    shape="centre-console",
    grade=2,
    on=date(2027, 4, 20),
    lines=(
        PriceLine(words="$68 a foot for 20 ft", cents=136_000),
        PriceLine(words="1 medium repair", cents=16_000),
    ),
)


def options(name: str, folder: Path) -> dict[str, object]:
    """Options a shipped plugin can be made with, writing only under a folder of the test's own."""
    return {
        "weather_file": {
            "folder": str(WEATHER),
            "file": "forecast_issued_sun_1800.csv",
            "issued_at": ISSUED.isoformat(),
        },
        "notify_file": {"file": str(folder / "out" / "messages.jsonl")},
        "weather_columnar": {"address": "https://weather.pell.test/forecast"},
        "weather_gridpoint": {"address": "https://weather.pell.test"},
        "notify_sms_http": {"url": "https://gateway.pell.test/v1/messages"},
        "drive_times_http": {"address": "https://roads.pell.test"},
        "notify_sms_smpp": {"host": "sms.pell.test", "system_id": "lanternglass"},
        "tide_gate": {"gates": "oars-head 3", "high_waters": "2027-05-24 09:10"},
        "notify_email": {"host": "mail.pell.test", "sender": "crew@pell.test"},
    }.get(name, {})


@contextmanager
def ready(name: str, folder: Path) -> Iterator[dict[str, object]]:
    """Options with which a plugin can do its work, the other end of its line running on loopback."""
    given = options(name, folder)
    if name == "notify_sms_http":
        with gateway.serving() as one:
            yield given | {"url": one.url}
    elif name == "notify_sms_smpp":
        with centre.serving() as one:
            line = {"host": "127.0.0.1", "port": one.port, "security": "plain"}
            yield given | line | {"password": one.password.decode()}
    elif name == "drive_times_http":
        with roads.serving() as service:
            yield given | {"address": service.address}
    elif name == "weather_gridpoint":
        with sky_shapes.serving(DEMO_SKY) as server:
            yield given | {"address": server.address}
    elif name == "weather_columnar":
        with sky_shapes.serving(DEMO_SKY) as server:
            yield given | {"address": server.address + sky_shapes.COLUMNS}
    elif name == "notify_email":
        with mail_server.serving() as server:
            here = {"host": "localhost", "port": server.port, "security": "plain"}
            yield given | here
    else:
        yield given


def asks(name: str, hook: str) -> object:
    """A question for each hook; a plugin of one channel is handed a message of that channel."""
    if name == "notify_email":
        return replace(MESSAGE, channel="email", to="ames@pell.test")
    return {
        "forecast": FORECAST_ASK,
        "drives": DRIVES_ASK,
        "price": PRICE_ASK,
        "vetoes": VETO_ASK,
        "hear": HearAsk(body='{"id": "m-7", "status": "delivered"}', at=ISSUED),
        "send": MESSAGE,
        "publish": PUBLISH_ASK,
    }[hook]


def found(name: str) -> Found:
    """A shipped plugin, which must be found and fit."""
    one = named(name)
    assert one.manifest is not None, one.refused
    return one
