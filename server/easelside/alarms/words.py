"""All that a message, a calendar event or the log says about what calls the maker."""

from zoneinfo import ZoneInfo

from easelside.alarms.model import Caring, Facts, Message, Planned, Soaking

LONGEST = 120  # a label may be long; a notification and a calendar are narrow

CALENDAR = "Easelside"
TRIAL = ("Easelside", "A message to try it out: this phone is reached.")
SOON_READY = "Ready in two minutes"
NOT_RUNG = "The bell could not ring ({why}). Name another command with --bell."
PUSH_GIVEN_UP = "A message to a phone was given up: %s"

_CARE = {
    "oil": "Oil the pivot",
    "clean": "Clean the arm",
    "look": "Look at the edge",
    "change": "Change the blade",
    "grind": "Grind",
}
_CARE_OF_TOOL = {
    "oil": "Oil the",
    "clean": "Clean the",
    "look": "Look at the",
    "change": "Change the blade of the",
    "grind": "Grind the",
}


def short(words: str) -> str:
    return words if len(words) <= LONGEST else words[: LONGEST - 1].rstrip() + "…"


def soak_name(soaking: Soaking) -> str:
    """Batch D1, 24 pieces, jar 2"""
    parts = [f"Batch {soaking.batch}" if soaking.batch else ""]
    if soaking.pieces is not None:
        parts.append("1 piece" if soaking.pieces == 1 else f"{soaking.pieces} pieces")
    parts.append(f"jar {soaking.jar}" if soaking.jar else "")
    return short(", ".join(part for part in parts if part) or "Cane")


def soak_ready(soaking: Soaking) -> str:
    name = soak_name(soaking)
    said = "the next ones are due in the water" if soaking.goes_in else "ready"
    return f"{name[0].upper()}{name[1:]}: {said}"


def care_name(caring: Caring) -> str:
    """The maker's own words, else what and whereon."""
    what = caring.what or "other"
    if caring.words:
        found = caring.words
    elif caring.tool:
        found = (
            f"{_CARE_OF_TOOL.get(what, 'Care for the')} {'tool' if caring.tool == 'other' else caring.tool}"
        )
    else:
        found = _CARE.get(what, "Care")
    return short(f"{found}, {caring.machine}" if caring.machine else found)


def planned_name(planned: Planned) -> str:
    return short(f"Profile batch {planned.label}" if planned.label else "Profile a batch")


def calendar_name(facts: Facts) -> str:
    return short(facts.workshop or CALENDAR)


def clock_time(soaking: Soaking, zone: ZoneInfo) -> str:
    """The end by the workshop's wall clock, in 24 hours."""
    return soaking.at.astimezone(zone).strftime("%H:%M")


def told(message: Message, zone: ZoneInfo) -> tuple[str, str]:
    """Title and text of a notification."""
    if isinstance(message.about, Soaking):
        at = clock_time(message.about, zone)
        was = (
            f"They were to go in at {at}."
            if message.about.goes_in
            else f"Its time in water was over at {at}."
        )
        return soak_ready(message.about), was
    return care_name(message.about), "This care is due."
