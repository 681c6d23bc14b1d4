"""`python3 server demo`: sets Easelside up beside this checkout, then runs it.

Only the standard library, so that it works before anything is installed.
"""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
LEFT_OUT = {"node_modules", "client", "__pycache__", ".venv", "dist"}
SOURCES = ("pyproject.toml", "README.md", "server", "seed_demo", "webclient")


def python_of(venv: Path) -> Path:
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def digest() -> str:
    """One hash over all that an installation is made from."""
    total = hashlib.sha256(sys.version.encode())
    for name in SOURCES:
        top = ROOT / name
        files = [top] if top.is_file() else sorted(p for p in top.rglob("*") if p.is_file())
        for path in files:
            inside = path.relative_to(ROOT)
            if not LEFT_OUT & set(inside.parts):
                total.update(str(inside).encode() + b"\0" + path.read_bytes() + b"\0")
    return total.hexdigest()


def set_up(extra: str = "") -> Path:
    """Makes .venv hold this checkout as it is now, with an extra where asked for; returns its Python."""
    if sys.version_info < (3, 11):  # noqa: UP036 - whoever has an older one gets this sentence, not a traceback
        sys.exit(
            f"Easelside needs Python 3.11 or newer; this is {sys.version.split()[0]}. Install a newer one."
        )
    python, mark, wanted = python_of(VENV), VENV / f".installed{'-' + extra if extra else ''}", digest()
    if python.is_file() and mark.is_file() and mark.read_text() == wanted:
        return python
    if not python.is_file():
        print("Setting up: a Python environment in .venv ...", flush=True)
        made = subprocess.run([sys.executable, "-m", "venv", str(VENV)], capture_output=True, text=True)
        if made.returncode:
            sys.exit(
                "This Python cannot make an environment. On Debian or Ubuntu: apt install python3-venv\n"
                + made.stdout
            )
    print("Setting up: installing what Easelside needs (about a minute the first time) ...", flush=True)
    pip = [str(python), "-m", "pip", "--quiet", "--disable-pip-version-check"]
    locked = str(ROOT / "server/locked.txt")
    # Older pips hand PIP_CONSTRAINT on to the build's own environment, newer ones want the second name.
    settings = {**os.environ, "PIP_CONSTRAINT": locked, "PIP_BUILD_CONSTRAINT": locked}
    # pip keeps an installed copy of the same version number: an edit must count, so the old goes.
    subprocess.run([*pip, "uninstall", "--yes", "easelside"], check=True, env=settings, capture_output=True)
    installed = subprocess.run([*pip, "install", f"{ROOT}[{extra}]" if extra else str(ROOT)], env=settings)
    if installed.returncode:
        sys.exit(
            "Setting up did not finish: see what pip said above. Nothing is lost; run the same command again."
        )
    for old in VENV.glob(".installed*"):
        old.unlink()
    mark.write_text(wanted)
    if extra:
        (VENV / ".installed").write_text(wanted)
    return python


if __name__ == "__main__":
    words = [str(set_up()), "-m", "easelside", *sys.argv[1:]]
    if os.name == "posix":
        os.execv(words[0], words)  # in this one's place: Ctrl-C and SIGTERM are the server's own
    sys.exit(subprocess.run(words).returncode)
