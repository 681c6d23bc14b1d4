"""What is known of one soak?"""

from dataclasses import dataclass
from datetime import datetime, timedelta

from easelside.units import Fields, count, instant, number, text

PURPOSES = ("profile", "shape", "form", "ream", "scrape", "other")
WATERS = ("cold", "room", "warm", "overnight")
MARKS = ("good", "still_hard", "too_soft")


@dataclass(frozen=True)
class Soak:
    id: str
    purpose: str | None
    jar: str | None
    batch: str | None
    lot: str | None
    pieces: int | None
    water: str | None
    water_c: float | None
    put_in: datetime | None
    put_in_skew: timedelta | None  # the phone's clock less the server's, where the phone filled the time in
    soak_s: float | None
    taken_out: datetime | None
    taken_out_skew: timedelta | None
    drying_since: datetime | None
    dried_at: datetime | None
    mark: str | None
    run: str | None  # the first soak of its staggered row
    every_s: float | None
    weight_before_g: float | None
    weight_after_g: float | None


def read_soak(id: str, fields: Fields) -> Soak:
    return Soak(
        id=id,
        purpose=text(fields, "purpose"),
        jar=text(fields, "jar"),
        batch=text(fields, "batch"),
        lot=text(fields, "lot"),
        pieces=count(fields, "pieces"),
        water=text(fields, "water"),
        water_c=number(fields, "water_c"),
        put_in=instant(fields, "put_in"),
        put_in_skew=_skew(fields, "put_in_skew_ms"),
        soak_s=number(fields, "soak_s"),
        taken_out=instant(fields, "taken_out"),
        taken_out_skew=_skew(fields, "taken_out_skew_ms"),
        drying_since=instant(fields, "drying_since"),
        dried_at=instant(fields, "dried_at"),
        mark=text(fields, "mark"),
        run=text(fields, "run"),
        every_s=number(fields, "every_s"),
        weight_before_g=number(fields, "weight_before_g"),
        weight_after_g=number(fields, "weight_after_g"),
    )


def _skew(fields: Fields, name: str) -> timedelta | None:
    skew_ms = number(fields, name)
    return None if skew_ms is None or abs(skew_ms) > 1e13 else timedelta(milliseconds=skew_ms)
