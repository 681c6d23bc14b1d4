"""What is known of one soak?"""

from dataclasses import dataclass
from datetime import datetime, timedelta

from easelside.units import Fields, instant, number, text

PURPOSES = ("profile", "shape", "form", "ream", "scrape", "other")
WATERS = ("cold", "room", "warm", "overnight")
MARKS = ("good", "still_hard", "too_soft")


@dataclass(frozen=True)
class Soak:
    id: str
    purpose: str | None
    jar: str | None
    batch: str | None
    put_in: datetime | None
    put_in_skew: timedelta | None  # the phone's clock less the server's, where the phone filled the time in
    soak_s: float | None
    taken_out: datetime | None


def read_soak(id: str, fields: Fields) -> Soak:
    skew_ms = number(fields, "put_in_skew_ms")
    return Soak(
        id=id,
        purpose=text(fields, "purpose"),
        jar=text(fields, "jar"),
        batch=text(fields, "batch"),
        put_in=instant(fields, "put_in"),
        put_in_skew=None if skew_ms is None or abs(skew_ms) > 1e13 else timedelta(milliseconds=skew_ms),
        soak_s=number(fields, "soak_s"),
        taken_out=instant(fields, "taken_out"),
    )
