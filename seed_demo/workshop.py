"""What stands in this workshop, and what was done to it? Machines, lots, notes, and today."""

from easelside.units import write_instant
from seed_demo.bench_month import tell_month
from seed_demo.bench_year import Labels, tell_year
from seed_demo.blades_and_care import tell_care, tell_edges
from seed_demo.readings import tell_readings
from seed_demo.story import (
    DOOR,
    FIRST_SIX_IN_WATER_MINUTES,
    LOTS,
    TODAY,
    WINDOW,
)
from seed_demo.telling import WORKSHOP, Telling

STAGES = ["gouged", "profiled", "shaped", "formed", "finished"]


def tell(telling: Telling, time_zone: str) -> None:
    """The whole story, up to the six pieces that lie in the water now."""
    began = telling.at(366, "08:40")
    telling.write(
        began,
        "workshop",
        {
            "name": "The workshop at Quillmere",
            "time_zone": time_zone,
            "currency": "EUR",
            "grind_one": 9.0,
            "grind_box": 27.0,
            "grind_box_of": 5,
            "soak_habit": "warm",
            "soak_warm_s": 1800,
            "soak_cold_s": 14400,
            "soak_overnight_s": 36000,
            "stages": STAGES,
            "lengths": "mm",
        },
        record=WORKSHOP,
    )
    telling.write(
        began,
        "device",
        {"name": "Bench phone", "look": "phone", "hand": "right", "speaks": False},
        record=telling.phone,
    )
    telling.write(
        began,
        "device",
        {"name": "Window laptop", "look": "phone", "hand": "right", "speaks": False},
        record=telling.laptop,
        device=telling.laptop,
    )
    machines = tell_machines(telling)
    blades = {
        label: telling.write(telling.at(365, "09:10"), "blade", {"label": label}) for label in "12345678"
    }
    lots = {
        lot.label: telling.write(
            telling.at(lot.bought, "10:00"),
            "lot",
            {
                "label": lot.label,
                "comes": lot.comes,
                "gouge_mm": lot.gouge_mm,
                "diameter_mm": lot.diameter_mm,
                "bought": telling.day(lot.bought).isoformat(),
                "pieces": lot.pieces,
                **({"note": lot.note} if lot.note else {}),
            },
            device=telling.laptop,
        )
        for lot in LOTS
    }
    settings = tell_edges(telling, machines, blades)
    labels = Labels()
    tell_year(telling, machines, lots, blades, labels)
    batches = tell_month(telling, machines, lots, settings, labels)
    tell_care(telling, machines)
    tell_notes(telling, batches, lots, blades)
    tell_today(telling, machines[WINDOW], lots[TODAY[0]], labels)
    tell_readings(telling, machines, blades)


def tell_machines(telling: Telling) -> dict[str, str]:
    screws = {
        "middle_thread": "M3",
        "shoulder_thread": "M3",
        "middle_lowers": "clockwise",
        "shoulder_lowers": "clockwise",
    }
    habits = {"does": "profile", "turn_habit": "passes", "counts_turns": False, "bow_after_pieces": 200}
    at = telling.at(365, "09:00")
    window = {"name": WINDOW, "instrument": "bassoon", "template": "2", **screws, **habits}
    door = {
        "name": DOOR,
        "instrument": "contrabassoon",
        "template": "1",
        **screws,
        **habits,
        "note": "empty until blade 8 is back",
    }
    return {
        WINDOW: telling.write(at, "machine", window),
        DOOR: telling.write(telling.at(131, "11:00"), "machine", door),
    }


def tell_notes(
    telling: Telling, batches: dict[str, str], lots: dict[str, str], blades: dict[str, str]
) -> None:
    c1 = batches["C1"]
    for days_ago, clock, kind, record, text in (
        (26, "17:10", "lot", lots["A"], "Bark like horn. The first two sixes were still hard at 45 minutes."),
        (
            2,
            "16:20",
            "blade",
            blades["3"],
            "Shreds near the shoulder in the last ten. Change it before the next batch.",
        ),
    ):
        at = telling.at(days_ago, clock)
        said = {"about_kind": kind, "about": record, "text": text, "at": write_instant(at)}
        telling.write(at, "note", said)
    # Two devices wrote without having heard of each other: one note stands, the other is in the history.
    telling.write(
        telling.at(2, "16:12"), "batch", {"note": "four torn at the shoulder"}, record=c1, unseen=True
    )
    telling.write(
        telling.at(2, "16:31"),
        "batch",
        {"note": "four torn: the edge, not the cane"},
        record=c1,
        device=telling.laptop,
        unseen=True,
    )


def tell_today(telling: Telling, machine: str, lot: str, labels: Labels) -> None:
    """Lot D is to be cut today; its first six went into the water a while ago."""
    label, pieces = labels.next(TODAY[0]), TODAY[1]
    gouged = telling.at(1, "18:30")
    batch = telling.write(
        gouged,
        "batch",
        {
            "label": label,
            "lot": lot,
            "pieces": pieces,
            "machine": machine,
            "planned_day": telling.today.isoformat(),
        },
        device=telling.laptop,
    )
    telling.write(
        gouged,
        "tally",
        {
            "batch": batch,
            "stage": "gouged",
            "at": write_instant(gouged),
            "started": pieces,
            "good": pieces,
            "second_count": 0,
            "lost_by": {},
            "opening": False,
        },
    )
    into = telling.minutes_ago(FIRST_SIX_IN_WATER_MINUTES)
    telling.write(
        into,
        "soak",
        {
            "purpose": "profile",
            "pieces": 6,
            "batch": batch,
            "lot": lot,
            "jar": "1",
            "water": "warm",
            "water_c": 38,
            "soak_s": 1800,
            "of_pieces": pieces,
            "every_s": 1080,
            "put_in": write_instant(into),
            "put_in_skew_ms": 0,
        },
    )
