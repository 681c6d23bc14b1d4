"""Calendars against RFC 5545 and RFC 7986, by the library and by a second reader of our own."""

from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta

import pytest
from icalendar import Calendar

from easelside.alarms.calendar import feed, one_event
from easelside.alarms.model import Caring, Facts, Planned, Soaking
from easelside.units import zone_of
from tests.published.ical_lines import LONGEST_LINE, plain, read, unfolded

# RFC 5545, section 4, first example (from memory), with the line ends of section 3.1.
CONFERENCE = b"\r\n".join(
    [
        b"BEGIN:VCALENDAR",
        b"PRODID:-//xyz Corp//NONSGML PDA Calendar Version 1.0//EN",
        b"VERSION:2.0",
        b"BEGIN:VEVENT",
        b"DTSTAMP:19960704T120000Z",
        b"UID:uid1@example.com",
        b"ORGANIZER:mailto:jsmith@example.com",
        b"DTSTART:19960918T143000Z",
        b"DTEND:19960920T220000Z",
        b"STATUS:CONFIRMED",
        b"CATEGORIES:CONFERENCE",
        b"SUMMARY:Networld+Interop Conference",
        b"DESCRIPTION:Networld+Interop Conference",
        b"  and Exhibit\\nAtlanta World Congress Center\\n",
        b" Atlanta\\, Georgia",
        b"END:VEVENT",
        b"END:VCALENDAR",
        b"",
    ]
)
# RFC 5545, section 3.6.1 (from memory): a day that is not busy, and an anniversary each year, both all day.
ALL_DAY = b"\r\n".join(
    [
        b"BEGIN:VCALENDAR",
        b"PRODID:-//xyz Corp//NONSGML PDA Calendar Version 1.0//EN",
        b"VERSION:2.0",
        b"BEGIN:VEVENT",
        b"UID:20070423T123432Z-541111@example.com",
        b"DTSTAMP:20070423T123432Z",
        b"DTSTART;VALUE=DATE:20070628",
        b"DTEND;VALUE=DATE:20070709",
        b"SUMMARY:Festival International de Jazz de Montreal",
        b"TRANSP:TRANSPARENT",
        b"END:VEVENT",
        b"BEGIN:VEVENT",
        b"UID:19970901T130000Z-123403@example.com",
        b"DTSTAMP:19970901T130000Z",
        b"DTSTART;VALUE=DATE:19971102",
        b"SUMMARY:Our Blissful Anniversary",
        b"TRANSP:TRANSPARENT",
        b"CLASS:CONFIDENTIAL",
        b"CATEGORIES:ANNIVERSARY,PERSONAL,SPECIAL OCCASION",
        b"RRULE:FREQ=YEARLY",
        b"END:VEVENT",
        b"END:VCALENDAR",
        b"",
    ]
)
# RFC 5545, section 3.6.6, second example (from memory): an alarm that is shown half an hour before and twice
# more, each quarter of an hour; in an event, because an alarm stands in one only.
ALARM = b"\r\n".join(
    [
        b"BEGIN:VCALENDAR",
        b"PRODID:-//xyz Corp//NONSGML PDA Calendar Version 1.0//EN",
        b"VERSION:2.0",
        b"BEGIN:VEVENT",
        b"UID:19970901T130000Z-123401@example.com",
        b"DTSTAMP:19970901T130000Z",
        b"DTSTART:19970903T163000Z",
        b"DTEND:19970903T190000Z",
        b"SUMMARY:Annual Employee Review",
        b"BEGIN:VALARM",
        b"TRIGGER:-PT30M",
        b"REPEAT:2",
        b"DURATION:PT15M",
        b"ACTION:DISPLAY",
        b"DESCRIPTION:Breakfast meeting with executive\\n",
        b" team at 8:30 AM EST.",
        b"END:VALARM",
        b"END:VEVENT",
        b"END:VCALENDAR",
        b"",
    ]
)
READY = datetime(2026, 11, 25, 14, 30, tzinfo=UTC)
SOAK, TASK, BATCH = (f"019aba0f-f7c0-7000-8000-00000000000{n}" for n in (1, 2, 3))
SOAKING = Soaking(SOAK, READY, jar="2", pieces=24, batch="D1; Größe, \\ und\nmehr")
FACTS = Facts(
    soaks=(SOAKING,),
    care=(Caring(TASK, "ever/", date(2026, 11, 27), False, "oil", "Oil, then wipe; twice"),),
    planned=(Planned(BATCH, date(2026, 12, 1), "E" * 200),),
    zone=zone_of("Europe/Berlin"),
    workshop="Zur Linde, Werkstatt",
)


def stamped(digests: Mapping[str, str]) -> Mapping[str, tuple[int, str]]:
    return dict.fromkeys(digests, (3, "2026-11-25T14:06:07.890Z"))


def test_our_reader_and_the_library_read_the_rfcs_own_example_alike() -> None:
    (event,) = read(CONFERENCE).all("VEVENT")
    (known,) = Calendar.from_ical(CONFERENCE).walk("VEVENT")
    said = "Networld+Interop Conference and Exhibit\nAtlanta World Congress Center\nAtlanta, Georgia"
    assert plain(event.value("DESCRIPTION")) == said == str(known["DESCRIPTION"])
    assert event.value("DTSTART") == "19960918T143000Z"
    assert known.decoded("DTSTART") == datetime(1996, 9, 18, 14, 30, tzinfo=UTC)


def test_the_rfcs_days_are_read_as_days_by_both_readers() -> None:
    first, last = date(2007, 6, 28), date(2007, 7, 9)
    jazz, anniversary = read(ALL_DAY).all("VEVENT")
    assert ("DTSTART", ";VALUE=DATE", "20070628") in jazz.lines
    assert ("DTEND", ";VALUE=DATE", "20070709") in jazz.lines
    assert anniversary.value("CATEGORIES").split(",") == ["ANNIVERSARY", "PERSONAL", "SPECIAL OCCASION"]
    known, yearly = Calendar.from_ical(ALL_DAY).walk("VEVENT")
    assert (known.decoded("DTSTART"), known.decoded("DTEND")) == (first, last)
    assert (yearly.decoded("DTSTART"), str(yearly["SUMMARY"])) == (
        date(1997, 11, 2),
        plain(anniversary.value("SUMMARY")),
    )


def test_the_rfcs_alarm_is_read_alike_by_both_readers() -> None:
    (event,) = read(ALARM).all("VEVENT")
    (alarm,) = event.all("VALARM")
    said = "Breakfast meeting with executive\nteam at 8:30 AM EST."
    assert (alarm.value("ACTION"), alarm.value("TRIGGER"), alarm.value("REPEAT")) == (
        "DISPLAY",
        "-PT30M",
        "2",
    )
    assert "TRIGGER" not in event.names()
    (known,) = Calendar.from_ical(ALARM).walk("VALARM")
    assert plain(alarm.value("DESCRIPTION")) == said == str(known["DESCRIPTION"])
    assert known.decoded("TRIGGER") == timedelta(minutes=-30)
    assert known.decoded("DURATION") == timedelta(minutes=15)


def test_a_line_folded_in_the_middle_of_a_word_is_joined_as_in_section_3_1() -> None:
    # RFC 5545, section 3.1 (from memory)
    folded = b"DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.\r\n"
    assert unfolded(folded) == ["DESCRIPTION:This is a long description that exists on a long line."]


def test_a_soaks_event_rings_at_its_end_and_two_minutes_before() -> None:
    content = one_event(SOAKING, stamped)
    calendar = read(content)
    (event,) = calendar.all("VEVENT")
    assert "METHOD" not in calendar.names()
    assert (calendar.value("VERSION"), event.value("UID")) == ("2.0", f"soak-{SOAK}@easelside.invalid")
    assert (event.value("DTSTART"), event.value("DTEND")) == ("20261125T143000Z", "20261125T143500Z")
    assert (event.value("SEQUENCE"), event.value("DTSTAMP")) == ("3", "20261125T140607Z")
    alarms = [
        (a.value("ACTION"), a.value("TRIGGER"), bool(a.value("DESCRIPTION"))) for a in event.all("VALARM")
    ]
    assert alarms == [("DISPLAY", "PT0S", True), ("DISPLAY", "-PT2M", True)]
    # the library's reading
    (known,) = Calendar.from_ical(content).walk("VEVENT")
    assert known.decoded("DTSTART") == READY
    triggers = [a.decoded("TRIGGER") for a in known.walk("VALARM")]
    assert triggers == [timedelta(0), timedelta(minutes=-2)]


def test_no_line_is_longer_than_75_octets_and_none_is_cut_within_a_letter() -> None:
    long = Soaking(SOAK, READY, batch="aü€" * 40)
    for content in (one_event(long, stamped), feed(FACTS, stamped)):
        lines = content.split(b"\r\n")
        assert max(map(len, lines)) <= LONGEST_LINE
        assert any(line.startswith(b" ") for line in lines)
        assert all(line.decode("utf-8", "strict") is not None for line in lines)


def test_the_feed_is_read_alike_by_both_readers() -> None:
    content = feed(FACTS, stamped)
    ours = {e.value("UID"): plain(e.value("SUMMARY")) for e in read(content).all("VEVENT")}
    theirs = {str(e["UID"]): str(e["SUMMARY"]) for e in Calendar.from_ical(content).walk("VEVENT")}
    assert ours == theirs
    assert ours[f"care-{TASK}@easelside.invalid"] == "Oil, then wipe; twice"
    assert ours[f"soak-{SOAK}@easelside.invalid"].startswith(
        "Batch D1; Größe, \\ und\nmehr, 24 pieces, jar 2"
    )


def test_the_feed_has_what_rfc_7986_asks_of_one() -> None:
    calendar = read(feed(FACTS, stamped))
    assert plain(calendar.value("NAME")) == "Zur Linde, Werkstatt"  # section 5.1
    interval = [(p, v) for name, p, v in calendar.lines if name == "REFRESH-INTERVAL"]
    assert interval == [(";VALUE=DURATION", "PT15M")]  # section 5.7: the type must be said
    assert not [part for event in calendar.all("VEVENT") for part in event.all("VALARM")]


def test_days_are_days_in_the_feed() -> None:
    days = {
        event.value("UID").split("-")[0]: (parameters, value)
        for event in read(feed(FACTS, stamped)).all("VEVENT")
        for name, parameters, value in event.lines
        if name == "DTSTART"
    }
    assert days["care"] == (";VALUE=DATE", "20261127")
    assert days["planned"] == (";VALUE=DATE", "20261201")
    assert days["soak"] == ("", "20261125T143000Z")


def test_the_same_facts_make_the_same_bytes() -> None:
    assert feed(FACTS, stamped) == feed(FACTS, stamped)
    turned = Facts(FACTS.soaks, FACTS.care, FACTS.planned[::-1], FACTS.zone, None, FACTS.workshop)
    assert feed(turned, stamped) == feed(FACTS, stamped)


@pytest.mark.parametrize("say", [b"BEGIN:VCALENDAR\nEND:VCALENDAR\n", b"X" * 76 + b":1\r\n"])
def test_our_reader_refuses_what_section_3_1_forbids(say: bytes) -> None:
    with pytest.raises(AssertionError):
        read(say)
