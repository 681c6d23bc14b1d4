"""`python3 tests`: sets up what the tests need, then runs all of them.

Words behind it go to pytest instead, and only pytest runs: `python3 tests tests/server -k soak`.
"""

import json
import os
import runpy
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
WEBCLIENT = ROOT / "webclient"


# what is looked for on the machine, and the packages of Debian's that have it
PROGRAMS = {
    "chromium": ["chromium"],
    "certutil": ["libnss3-tools"],
    "firefox-esr": ["firefox-esr"],
    "xvfb-run": ["xvfb", "xauth"],
}
ON_LINUX = {"firefox-esr", "xvfb-run"}
WEBKIT = ["gir1.2-webkit2-4.1", "python3-gi"]
ASK_WEBKIT = "import gi; gi.require_version('WebKit2', '4.1'); from gi.repository import WebKit2"


def lacking() -> dict[str, list[str]]:
    """What the browser tests need and this machine has not: its name, and Debian's packages for it."""
    found = {program: packages for program, packages in PROGRAMS.items() if not shutil.which(program)}
    if sys.platform != "linux":
        print("The bench day in WebKitGTK and Firefox is tried on Linux only: left out here.", flush=True)
        return {program: packages for program, packages in found.items() if program not in ON_LINUX}
    debians_python = "/usr/bin/python3"
    asked = [debians_python, "-c", ASK_WEBKIT]
    if not os.path.exists(debians_python) or subprocess.run(asked, stderr=subprocess.DEVNULL).returncode:
        found["WebKitGTK"] = WEBKIT
    return found


def browser_or_exit() -> None:
    """What the browser tests need: the machine's own, else Debian's where this user may install it."""
    missing = lacking()
    if not missing:
        return
    if shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        packages = [package for some in missing.values() for package in some]
        print(f"Setting up: Debian's {', '.join(packages)} for the browser tests ...", flush=True)
        subprocess.run(["apt-get", "-qq", "update"], check=False)
        subprocess.run(
            ["apt-get", "-qq", "install", "--yes", "--no-install-recommends", *packages],
            check=False,
            env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
            stdout=subprocess.DEVNULL,
        )
        missing = lacking()
    if missing:
        packages = [package for some in missing.values() for package in some]
        sys.exit(
            f"The browser tests need {', '.join(missing)} "
            f"(Debian: {' '.join(packages)}): install that, then run this again."
        )


def steps(python: str, node: str) -> list[tuple[str, list[str], Path]]:
    packages = WEBCLIENT / "node_modules"
    client = [
        ("types of the client", ["typescript/bin/tsc", "-p", "tsconfig.json", "--noEmit"]),
        (
            "types of the client's rules, without the DOM",
            ["typescript/bin/tsc", "-p", "tsconfig.pure.json", "--noEmit"],
        ),
        ("types of the client's tests", ["typescript/bin/tsc", "-p", "tsconfig.tests.json", "--noEmit"]),
        ("lint of the client", ["@biomejs/biome/bin/biome", "ci", "--error-on-warnings"]),
        ("tests of the client", ["vitest/vitest.mjs", "run"]),
    ]
    return [
        ("lint of the server", [python, "-m", "ruff", "check", "server", "tests", "seed_demo"], ROOT),
        ("types of the server", [python, "-m", "mypy"], ROOT),
        *((name, [node, str(packages / words[0]), *words[1:]], WEBCLIENT) for name, words in client),
    ]


def pytest_passes(python: str) -> bool:
    """All of pytest's tests, three files at a time: a browser waits more than it works.

    What failed beside others is run again alone, once, and told by name: on two busy cores a browser may be
    too late for a time limit, and then it is the machine that was tried. More than ten failures are no such
    thing.
    """
    with tempfile.TemporaryDirectory() as kept:
        words = [python, "-m", "pytest", "-o", f"cache_dir={kept}"]
        beside = [*words, "-n", "3", "--dist", "loadfile", "--durations=25"]
        if subprocess.run(beside, cwd=ROOT).returncode == 0:
            return True
        said = Path(kept) / "v/cache/lastfailed"
        failed = list(json.loads(said.read_text())) if said.exists() else []
        if not 0 < len(failed) <= 10:
            return False
        print("\n== again, alone: " + ", ".join(failed), flush=True)
        return subprocess.run([*words, "--last-failed"], cwd=ROOT).returncode == 0


def run_all(python: str) -> int:
    browser_or_exit()
    build = runpy.run_path(str(ROOT / "server/hatch_build.py"))
    node = build["install_packages"](WEBCLIENT)
    build["build_client"](WEBCLIENT, ROOT / "server/easelside/web/client")
    failed = []
    for name, words, folder in steps(python, node):
        print(f"\n== {name}", flush=True)
        began = time.monotonic()
        if subprocess.run(words, cwd=folder).returncode:
            failed.append(name)
        print(f"   {time.monotonic() - began:.0f} s", flush=True)
    name = "tests of the server and of whole bench days"
    print(f"\n== {name}", flush=True)
    if not pytest_passes(python):
        failed.append(name)
    print("\nFailed: " + ", ".join(failed) if failed else "\nAll of it passed.", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    inside = os.environ.get("EASELSIDE_TESTS_INSIDE")
    if not inside:
        set_up = runpy.run_path(str(ROOT / "server/__main__.py"), run_name="bootstrap")["set_up"]
        own = str(set_up("test"))
        again = [own, str(ROOT / "tests"), *sys.argv[1:]]
        sys.exit(
            subprocess.run(again, cwd=ROOT, env={**os.environ, "EASELSIDE_TESTS_INSIDE": "1"}).returncode
        )
    if sys.argv[1:]:
        sys.exit(subprocess.run([sys.executable, "-m", "pytest", *sys.argv[1:]], cwd=ROOT).returncode)
    sys.exit(run_all(sys.executable))
