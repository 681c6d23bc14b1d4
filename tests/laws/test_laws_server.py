"""The laws of the house, read from the server's own source."""

import ast
import json
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from easelside import errors

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "server" / "easelside"
BENCH = ("soak", "set_up", "profiling", "batches", "blades", "care")
ROOMS = (*BENCH, "pairing", "alarms")
JOINERS = ("forecast", "records", "exchange", "shelf", "logbook", "web", "housekeeping", "trust")
NOT_PURE = {"__init__", "words", "schemas", "routes"}  # at the bench all else decides, and is pure
PURE = {"model", "rules", "fit"}  # what is pure in a room that lets somebody in or calls out
IMPURE = set(
    "os sys io pathlib time socket urllib http threading random subprocess logging sqlite3 tempfile shutil "
    "asyncio importlib".split()
)
LONGEST_MODULE = 300


def modules() -> Iterator[Path]:
    return (p for p in sorted(PACKAGE.rglob("*.py")))


def rel(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


def imports(path: Path) -> set[str]:
    """Whole names of all that a module imports, inside functions too."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{rel(path)}: a relative import hides where it leads"
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def tops(path: Path) -> set[str]:
    return {name.split(".")[0] for name in imports(path)}


def offenders(wrong: dict[str, set[str]]) -> dict[str, set[str]]:
    return {name: found for name, found in wrong.items() if found}


def test_model_rules_and_fit_of_a_room_import_only_what_is_pure() -> None:
    wrong = {}
    for path in modules():
        room = path.parent.name
        decides = path.stem not in NOT_PURE if room in BENCH else path.stem in PURE
        if room not in (*ROOMS, "trust") or not decides:
            continue
        allowed = {f"easelside.{room}", "easelside.units", "easelside.errors", "easelside.arguments"}
        own = {n for n in imports(path) if n.startswith("easelside") and not _under(n, allowed)}
        other = tops(path) - sys.stdlib_module_names - {"easelside"}
        if is_fit(path):
            other -= NUMERICAL
        wrong[rel(path)] = own | other | (tops(path) & IMPURE)
    assert len(wrong) >= 10
    assert offenders(wrong) == {}


NUMERICAL = {"numpy", "scipy"}


def is_fit(path: Path) -> bool:
    return path.stem == "fit" or path.stem.endswith("_fit")


def is_of_the_refit(path: Path) -> bool:
    return path.parent.name == "forecast" and (path.stem == "past" or path.stem.endswith("_slips"))


def test_numpy_and_scipy_stay_where_models_are_fitted() -> None:
    """They take a second and 60 MB to load: a server that starts must not."""
    users = {rel(path): tops(path) & NUMERICAL for path in modules()}
    assert any(users.values())
    homes = {rel(path) for path in modules() if is_fit(path) or is_of_the_refit(path)}
    assert {name for name, found in users.items() if found} <= homes
    orders = (
        "import sys, easelside.__main__, easelside.app, easelside.running, easelside.housekeeping.nightly\n"
    )
    orders += "print(sorted({'numpy', 'scipy'} & sys.modules.keys()))"
    said = subprocess.run(
        [sys.executable, "-I", "-c", f"import sys; sys.path.insert(0, {str(PACKAGE.parent)!r})\n{orders}"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    assert said.strip() == "[]"


def _under(name: str, allowed: set[str]) -> bool:
    return any(name == a or name.startswith(a + ".") for a in allowed)


def test_no_room_imports_another() -> None:
    wrong = {}
    for room in ROOMS:
        others = {f"easelside.{other}" for other in (*ROOMS, "forecast") if other != room}
        for path in (PACKAGE / room).glob("*.py"):
            wrong[rel(path)] = {n for n in imports(path) if _under(n, others)}
    assert len(wrong) > 20
    assert offenders(wrong) == {}


HOMES = {
    "flask": lambda at: _is_web(at),
    "flask_smorest": lambda at: _is_web(at),
    "marshmallow": lambda at: _is_web(at),
    "werkzeug": lambda at: _is_web(at),
    "cheroot": lambda at: at.startswith("web/"),
    "sqlalchemy": lambda at: at.startswith("logbook/"),
    "sqlite3": lambda at: at.startswith("logbook/"),
    "tinydb": lambda at: at.startswith("shelf/"),
    "apscheduler": lambda at: at.startswith("housekeeping/"),
    "click": lambda at: at in ("__main__.py", "running.py"),
    "cryptography": lambda at: at.startswith("trust/") or at in ("alarms/push.py", "alarms/vapid.py"),
    "zeroconf": lambda at: at == "trust/announcing.py",
    "ifaddr": lambda at: at == "trust/addresses.py",
}


def _is_web(at: str) -> bool:
    return at == "app.py" or at.startswith("web/") or at.endswith(("/routes.py", "/schemas.py"))


@pytest.mark.parametrize("package", HOMES)
def test_a_framework_is_used_only_where_it_lives(package: str) -> None:
    users = {rel(path) for path in modules() if package in tops(path)}
    assert users, f"nobody uses {package}: take it out of the law and of the dependencies"
    assert {at for at in users if not HOMES[package](at)} == set()


def test_an_init_holds_a_docstring_and_nothing_else() -> None:
    for path in PACKAGE.rglob("__init__.py"):
        body = ast.parse(path.read_text()).body
        assert len(body) == 1, rel(path)
        assert isinstance(body[0], ast.Expr), rel(path)
        assert isinstance(body[0].value, ast.Constant), rel(path)


@pytest.mark.parametrize("room", ROOMS)
def test_a_fresh_interpreter_that_imports_a_rooms_rules_loads_no_framework(room: str) -> None:
    files = [stem for stem in ("model", "rules") if (PACKAGE / room / f"{stem}.py").exists()]
    orders = "".join(f"import easelside.{room}.{stem}\n" for stem in files)
    orders += "import sys, json; print(json.dumps(sorted({name.split('.')[0] for name in sys.modules})))"
    said = subprocess.run(
        [sys.executable, "-I", "-c", f"import sys; sys.path.insert(0, {str(PACKAGE.parent)!r})\n{orders}"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    assert set(json.loads(said)) & (HOMES.keys() - {"sqlite3"}) == set()


Kind = type[errors.EaselsideError]


def every_error(kind: Kind = errors.EaselsideError) -> list[Kind]:
    return [kind, *(found for below in kind.__subclasses__() for found in every_error(below))]


@pytest.mark.parametrize("kind", every_error(), ids=lambda kind: kind.__name__)
def test_every_error_has_a_code_and_two_sentences_of_its_own(kind: Kind) -> None:
    assert {"code", "happened", "to_do"} <= vars(kind).keys()
    assert kind.code.islower()
    for sentence in (kind.happened, kind.to_do):
        assert sentence[0].isupper() or sentence.startswith("`"), sentence
        assert sentence.endswith("."), sentence


def test_no_two_errors_share_a_code() -> None:
    codes = [kind.code for kind in every_error()]
    assert len(codes) == len(set(codes))


CLOCKS = {
    "time.time",
    "time.time_ns",
    "time.monotonic",
    "datetime.now",
    "datetime.utcnow",
    "datetime.today",
    "date.today",
    ".now",
    ".utcnow",
    ".today",
}


def test_nobody_but_the_clock_asks_what_time_it_is() -> None:
    wrong = {}
    for path in modules():
        if rel(path) != "clock.py":
            named = {
                ast.unparse(node).removeprefix("datetime.datetime").removeprefix("datetime.date")
                for node in ast.walk(ast.parse(path.read_text()))
                if isinstance(node, ast.Attribute)
            }
            wrong[rel(path)] = named & CLOCKS
    assert offenders(wrong) == {}


def test_pure_modules_draw_no_lots() -> None:
    wrong = {rel(p): tops(p) & {"random", "secrets", "uuid"} for p in modules() if p.stem in PURE}
    assert offenders(wrong) == {}


def test_a_module_is_read_in_one_sitting() -> None:
    long = {rel(p): n for p in modules() if (n := len(p.read_text().splitlines())) > LONGEST_MODULE}
    assert long == {}


def test_every_module_says_first_which_question_it_answers() -> None:
    silent = [rel(path) for path in modules() if not ast.get_docstring(ast.parse(path.read_text()))]
    assert silent == []


def test_no_module_is_a_drawer_for_odds_and_ends() -> None:
    drawers = {"utils", "util", "helpers", "common", "manager", "misc", "tools", "base"}
    assert [rel(p) for p in modules() if p.stem in drawers or p.parent.name in drawers] == []


def test_the_top_of_the_repository_holds_what_it_should() -> None:
    kept = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    names = {line.split("/")[0] for line in kept.splitlines()}
    whole = {"README.md", "DEVELOPERS.md", "pyproject.toml", "server", "webclient", "tests", "seed_demo"}
    assert {name for name in names if not name.startswith(".")} == whole


def test_every_folder_of_the_package_is_a_room_or_a_known_place() -> None:
    folders = {p.name for p in PACKAGE.iterdir() if p.is_dir() and p.name != "__pycache__"}
    assert folders == {*ROOMS, *JOINERS}


def test_the_import_contracts_hold() -> None:
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"]
    assert contracts
    linter = Path(sys.executable).with_name("lint-imports")
    found = subprocess.run(
        [linter, "--no-cache"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": str(PACKAGE.parent), "PATH": ""},
    )
    assert found.returncode == 0, found.stdout[-4000:] + found.stderr[-2000:]
