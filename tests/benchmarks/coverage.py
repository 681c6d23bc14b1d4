"""How often do the ranges of all forecasts hold: in the world they were made for, and in three wrong ones?

`PYTHONPATH=server:. .venv/bin/python -m tests.benchmarks.coverage [runs] [part ...]`; each part is a file
`coverage_<part>.py` beside this one with `coverage(runs, seed) -> [(what, world, share)]`.
"""

import sys
from importlib import import_module
from pathlib import Path

SEED = 20_261_125


def parts() -> list[str]:
    return sorted(p.stem.removeprefix("coverage_") for p in Path(__file__).parent.glob("coverage_*.py"))


def main(runs: int, wanted: list[str]) -> None:
    print(f"{runs} simulated workshops each; a 90 % range should hold 85 to 95 times in a hundred\n")
    for part in wanted or parts():
        found = import_module(f"tests.benchmarks.coverage_{part}").coverage(runs, SEED)
        worlds = list(dict.fromkeys(world for _, world, _ in found))
        width = max(len(what) for what, _, _ in found)
        print(f"{'':{width}}  " + "  ".join(worlds))
        for what in dict.fromkeys(what for what, _, _ in found):
            shares = {world: share for w, world, share in found if w == what}
            print(
                f"{what:{width}}  " + "  ".join(f"{shares.get(w, float('nan')):{len(w)}.1%}" for w in worlds)
            )
        print()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000, sys.argv[2:])
