"""What was measured while the window machine's middle stop was set, so that its screw is known?

Before a fitting was done the stop was tried a little higher or lower; three pieces of scrap were measured
there, three more after the turn. A turn does four fifths of what the thread says. On the last evening the
pieces of blade 4 came out 0.02 mm thicker than they are wanted.
"""

from random import Random

from easelside.units import write_instant
from seed_demo.story import EDGES, WINDOW
from seed_demo.telling import Telling

WANTED_MM = 0.45
PITCH_MM, EFFECT, LOCK_NUT_MM = 0.5, 0.8, 0.004
# (blade, days ago, turns at which it was tried, turns at which it was left)
TRIED = (
    ("4", 328, 2.375, 2.5),
    ("7", 282, 2.5, 2.375),
    ("2", 198, 2.125, 2.375),
    ("5", 118, 2.625, 2.5),
    ("7", 51, 2.25, 2.375),
    ("3", 23, 2.5, 2.25),
)
LAST_EVENING = (0.47, 0.46, 0.48, 0.47)


def tell_readings(telling: Telling, machines: dict[str, str], blades: dict[str, str]) -> None:
    chance = Random(47)
    wanted = {"middle_wanted_mm": WANTED_MM, "middle_wanted_wet": True}
    telling.write(telling.at(328, "16:20"), "machine", wanted, record=machines[WINDOW])
    for blade, days_ago, tried, left in TRIED:
        edge = next(e for e in EDGES if (e.blade, e.fitted, e.machine) == (blade, days_ago, WINDOW))
        lowered = (left - tried) * PITCH_MM * EFFECT - LOCK_NUT_MM
        at = telling.at(days_ago, "16:35")
        telling.write(
            at,
            "setting",
            {
                "machine": machines[WINDOW],
                "blade": blades[blade],
                "at": write_instant(at),
                "why": "tried with scrap",
                "middle_stop": {"way": "turns", "value": tried},
                "shoulder_stop": {"way": "turns", "value": edge.shoulder_turns},
                "projection_mm": 0.05,
                "template": "1" if days_ago > 51 else "2",
            },
        )
        for minute in range(3):
            _measure(telling, machines, days_ago, f"16:4{minute * 3}", WANTED_MM + lowered, chance)
        for minute in range(3):
            _measure(telling, machines, days_ago, f"17:2{minute * 3}", WANTED_MM, chance)
    for minute, value in enumerate(LAST_EVENING):
        _measure(telling, machines, 1, f"17:2{minute * 2}", value, None)


def _measure(
    telling: Telling, machines: dict[str, str], days_ago: int, clock: str, mm: float, chance: Random | None
) -> None:
    at = telling.at(days_ago, clock)
    value = mm if chance is None else round(mm + chance.gauss(0, 0.008), 2)
    telling.write(
        at,
        "reading",
        {
            "machine": machines[WINDOW],
            "point": "middle",
            "value_mm": value,
            "wet": True,
            "at": write_instant(at),
            "note": "scrap",
        },
    )
