"""Does the bell ring now, and what is due to be said and was not said yet?"""

from collections.abc import Container
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from easelside.alarms.model import Caring, Facts, Message, Quiet, Soaking
from easelside.units import write_instant

RINGS_FOR = timedelta(minutes=5)  # a bell that nobody answers stops by itself
STILL_WORTH = timedelta(hours=12)  # who comes back after a night still wants to know
SOON = timedelta(minutes=30)  # a push service that is slower than that need not bring it any more
CARE_WORTH = timedelta(hours=12)


def is_quiet(quiet: Quiet | None, at: datetime, zone: ZoneInfo) -> bool:
    if quiet is None:
        return False
    wall = at.astimezone(zone).time()
    if quiet.begins < quiet.ends:
        return quiet.begins <= wall < quiet.ends
    return wall >= quiet.begins or wall < quiet.ends


def may_call(soaking: Soaking, quiet: Quiet | None, now: datetime, zone: ZoneInfo) -> bool:
    """Not in the quiet hours, unless somebody put it in during these very hours and is thus up."""
    if not is_quiet(quiet, now, zone):
        return True
    put_in = soaking.put_in
    return put_in is not None and now - put_in < timedelta(hours=12) and is_quiet(quiet, put_in, zone)


def calls_from(soaking: Soaking) -> datetime | None:
    """Since when it rings, or will; None: it was taken out, or somebody answered."""
    if not soaking.in_water or (soaking.silenced and soaking.again_at is None):
        return None
    return soaking.again_at or soaking.at


def ringing(facts: Facts, now: datetime) -> list[Soaking]:
    """What the bell at the bench rings for now, the earliest first."""
    found = [
        (since, soaking.soak, soaking)
        for soaking in facts.soaks
        if (since := calls_from(soaking)) is not None
        and since <= now < since + RINGS_FOR
        and may_call(soaking, facts.quiet, now, facts.zone)
    ]
    return [soaking for _, _, soaking in sorted(found, key=lambda one: one[:2])]


def soak_key(soaking: Soaking, since: datetime) -> str:
    """Another time to ring, as after "five minutes more", is another message."""
    return f"soak/{soaking.soak}/{write_instant(since)}"


def care_key(caring: Caring) -> str:
    """One message a turn: once it was done or put off, it may be said again."""
    return f"care/{caring.task}/{caring.last}"


def unsaid(facts: Facts, said: Container[str], now: datetime) -> list[Message]:
    """What is due to be said now and was not; what falls into the quiet hours waits for their end."""
    found: list[Message] = []
    for soaking in facts.soaks:
        since = calls_from(soaking)
        if since is None or not since <= now < since + STILL_WORTH:
            continue
        key = soak_key(soaking, since)
        if key not in said and may_call(soaking, facts.quiet, now, facts.zone):
            found.append(Message(key, soaking, now + SOON, urgent=True))
    if not is_quiet(facts.quiet, now, facts.zone):
        for caring in facts.care:
            if caring.is_due and care_key(caring) not in said:
                found.append(Message(care_key(caring), caring, now + CARE_WORTH, urgent=False))
    return found


def answered(facts: Facts, waiting: set[str]) -> set[str]:
    """Messages on their way about soaks that no longer call: somebody silenced them, or took the cane out."""
    calls = {soak_key(s, since) for s in facts.soaks if (since := calls_from(s)) is not None}
    return {key for key in waiting if key.startswith("soak/") and key not in calls}
