"""What do calendars get? One event to be taken along, or a feed to be looked at (RFC 5545, RFC 7986).

A feed does not ring in most calendars and may be read hours later; the single event is what rings.
"""

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from icalendar import Alarm, Calendar, Event, vDatetime, vDuration, vText

from easelside.alarms import words
from easelside.alarms.model import Facts, Soaking
from easelside.units import read_instant

PRODUCT = "-//Easelside//Workshop calendar//EN"
AT_MOST = 2000  # events in one feed
RENEWED = timedelta(minutes=15)
SHORT = timedelta(minutes=5)  # how long the end of a soak looks in a calendar

Revised = Callable[[Mapping[str, str]], Mapping[str, tuple[int, str]]]
"""{uid: digest of what it says now} to {uid: (SEQUENCE, instant of its last change)}."""


@dataclass(frozen=True)
class Entry:
    uid: str
    says: str
    begins: datetime | date
    alarms: tuple[tuple[str, str], ...] = field(default=())  # (trigger, what it says)

    def digest(self) -> str:
        return hashlib.sha256(repr((self.says, self.begins.isoformat())).encode()).hexdigest()


def soak_entry(soaking: Soaking, *, rings: bool) -> Entry:
    says = words.soak_ready(soaking)
    alarms = (("PT0S", says), ("-PT2M", words.SOON_READY)) if rings else ()
    return Entry(f"soak-{soaking.soak}@easelside.invalid", says, soaking.at, alarms)


def feed_entries(facts: Facts) -> list[Entry]:
    """Soaks by the minute; care and planned sessions by the day. In the order of their uids."""
    found = [soak_entry(soaking, rings=False) for soaking in facts.soaks]
    found += [
        Entry(f"care-{one.task}@easelside.invalid", words.care_name(one), one.day) for one in facts.care
    ]
    found += [
        Entry(f"planned-{one.batch}@easelside.invalid", words.planned_name(one), one.day)
        for one in facts.planned
    ]
    return sorted(found, key=lambda entry: entry.uid)[:AT_MOST]


def one_event(soaking: Soaking, revised: Revised) -> bytes:
    return _written(_begun(), [soak_entry(soaking, rings=True)], revised)


def feed(facts: Facts, revised: Revised) -> bytes:
    """The same facts make the same bytes."""
    calendar = _begun()
    calendar.add("name", words.calendar_name(facts))
    calendar.add("x-wr-calname", words.calendar_name(facts))
    calendar.add("refresh-interval", vDuration(RENEWED), parameters={"VALUE": "DURATION"})
    calendar.add("x-published-ttl", vText("PT15M"))
    return _written(calendar, feed_entries(facts), revised)


def _begun() -> Calendar:
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", PRODUCT)
    calendar.add("calscale", "GREGORIAN")
    return calendar


def _written(calendar: Calendar, entries: list[Entry], revised: Revised) -> bytes:
    known = revised({entry.uid: entry.digest() for entry in entries})
    for entry in entries:
        sequence, changed = known[entry.uid]
        calendar.add_component(_event(entry, sequence, read_instant(changed)))
    return bytes(calendar.to_ical(sorted=True))


def _event(entry: Entry, sequence: int, changed: datetime | None) -> Event:
    event = Event()
    event.add("uid", entry.uid)
    event.add("sequence", sequence)
    if changed is not None:
        event.add("dtstamp", changed.replace(microsecond=0))
        event.add("last-modified", changed.replace(microsecond=0))
    event.add("summary", entry.says)
    if isinstance(entry.begins, datetime):
        begins = entry.begins.replace(microsecond=0)
        event.add("dtstart", vDatetime(begins))
        event.add("dtend", vDatetime(begins + SHORT))
    else:
        event.add("dtstart", entry.begins)
    event.add("transp", "TRANSPARENT")
    for trigger, says in entry.alarms:
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", says)
        # as text: the library writes no time at all as P0D, which old readers do not know
        alarm["trigger"] = vText(trigger)
        event.add_component(alarm)
    return event
