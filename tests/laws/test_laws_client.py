"""The laws of the client: who may import whom, what stays pure, where words stand, how much a phone loads."""

import gzip
import json
import re
from pathlib import Path

import pytest

from tests.bench_day.running_server import ROOT, build_client

SOURCE = ROOT / "webclient/src"
ROOMS = {"soak", "set_up", "profiling", "batches", "blades", "care", "records", "alarms", "pairing"}
FOR_ALL = {"logbook", "workshop", "drawings", "language", "wet_hands", "look", "clock.ts", "route.ts"}
MAY_JOIN = {"bench_day", "main.tsx"}
PURE = {"model.ts", "rules.ts"}
PURE_TOO = {"logbook/merge.ts", "logbook/ids.ts", "logbook/piece_id.ts"}
NEVER_PURE = {"clock.ts", "route.ts", "main.tsx", "state.ts", "store.ts"}
NEVER_PURE_PACKAGES = {"preact", "@preact/signals", "idb"}

IMPORT = r"""(?:\bfrom|\bimport)\s*\(?\s*["']([^"']+)["']"""
IMPORT_BUILT = r"""(?:from|import)\s*["'](\./[^"']+\.js)["']"""

LONGEST_MODULE = 300  # lines
# Phones: pairing and the locked phone's bell, and now that they have screens push, calendar and bench bell.
# A phone fetches it once, behind the first screen.
FIRST_SCREEN_KB, ALL_KB, PHONES_KB, FORESEEN_KB, FONTS_KB = 40, 120, 17.5, 45, 120


def sources() -> list[Path]:
    return sorted(path for path in SOURCE.rglob("*") if path.suffix in {".ts", ".tsx"})


def imports_of(path: Path) -> list[str]:
    """What a file imports, type or not: a file of the client as its path under src, else the package."""
    code = path.read_text(encoding="utf-8")
    return [resolved(path, name) for name in re.findall(IMPORT, code)]


def resolved(path: Path, name: str) -> str:
    if not name.startswith("."):
        return name
    at = (path.parent / name.removesuffix("?inline")).resolve()
    for end in ("", ".ts", ".tsx", "/index.ts"):
        if at.with_name(at.name + end).is_file() or (at / "index.ts").is_file():
            found = at / "index.ts" if at.is_dir() else at.with_name(at.name + end)
            if found.is_file():
                return found.relative_to(SOURCE).as_posix()
    raise AssertionError(f"{path.relative_to(ROOT)} imports {name}, which is not there")


def part_of(name: str) -> str:
    return name.split("/")[0]


def test_a_room_imports_itself_and_what_is_there_for_all_and_no_other_room() -> None:
    wrong = []
    for path in sources():
        room = part_of(path.relative_to(SOURCE).as_posix())
        if room not in ROOMS:
            continue
        for name in imports_of(path):
            if (SOURCE / name).is_file() and part_of(name) not in FOR_ALL | {room}:
                wrong.append(f"{path.relative_to(SOURCE)} imports {name}")
    assert not wrong, "only bench_day joins rooms:\n" + "\n".join(wrong)


def test_nothing_but_bench_day_and_main_joins_rooms() -> None:
    wrong = []
    for path in sources():
        part = part_of(path.relative_to(SOURCE).as_posix())
        if part in ROOMS | MAY_JOIN:
            continue
        wrong += [
            f"{path.relative_to(SOURCE)} imports {name}"
            for name in imports_of(path)
            if (SOURCE / name).is_file() and part_of(name) in ROOMS | MAY_JOIN
        ]
    assert not wrong, "what serves all rooms knows none of them:\n" + "\n".join(wrong)


def test_every_folder_of_the_client_is_known_to_these_laws() -> None:
    folders = {path.name for path in SOURCE.iterdir() if path.is_dir()}
    serving = {"exchange", "offline", "typeface"} | {name for name in FOR_ALL if "." not in name}
    assert folders <= ROOMS | serving | {"bench_day"}


def is_pure(path: Path) -> bool:
    is_named_so = path.name in PURE or path.name.endswith("_rules.ts")
    return is_named_so or path.relative_to(SOURCE).as_posix() in PURE_TOO


def test_what_decides_reaches_no_clock_no_state_and_no_screen_by_any_import() -> None:
    wrong = []
    for start in filter(is_pure, sources()):
        waiting, reached = [start.relative_to(SOURCE).as_posix()], set[str]()
        while waiting:
            name = waiting.pop()
            if name in reached:
                continue
            reached.add(name)
            file = SOURCE / name
            bad = file.name in NEVER_PURE or file.suffix in {".tsx", ".css"} or name in NEVER_PURE_PACKAGES
            if bad:
                wrong.append(f"{start.relative_to(SOURCE)} reaches {name}")
            elif file.is_file():
                waiting += imports_of(file)
    assert not wrong, "\n".join(wrong)


def test_compiler_and_linter_hold_the_same_files_to_no_dom_no_clock_and_no_chance() -> None:
    compiled = json.loads((ROOT / "webclient/tsconfig.pure.json").read_text())
    (linted,) = json.loads((ROOT / "webclient/biome.json").read_text())["overrides"]
    named = {f"src/**/{name}" for name in {*PURE, "*_rules.ts"}} | {f"src/{name}" for name in PURE_TOO}
    assert set(compiled["include"]) == set(linted["includes"]) == named
    assert compiled["compilerOptions"] == {"lib": ["ES2023"], "types": []}
    assert linted["plugins"] == ["./pure_files.grit"]


def test_a_module_and_a_style_sheet_are_read_in_one_sitting() -> None:
    files = [*sources(), *SOURCE.rglob("*.css")]
    lines = {path.relative_to(SOURCE).as_posix(): len(path.read_text().splitlines()) for path in files}
    assert len(lines) > 200
    assert {name: n for name, n in lines.items() if n > LONGEST_MODULE} == {}


WORDS_BETWEEN_TAGS = re.compile(
    r"[\w\"'}\s/]>\s*([^<>{}=;()|&:?\s][^<>{}=;()|&]*)(?=</|\{|<[A-Za-z])"  # ": x ?" is code
)
WORDS_IN_ATTRIBUTES = re.compile(
    r"\b(?:aria-label|aria-description|title|label|alt|placeholder|sub|text|order|legend|meanwhile)"
    r"=\"([^\"]*[A-Za-z][^\"]*)\""
)


def literal_words(text: str) -> list[str]:
    bare = re.sub(r"/\*.*?\*/|(?<!:)//[^\n]*", "", text, flags=re.S)
    found = [match.group(1) for match in WORDS_BETWEEN_TAGS.finditer(bare)]
    found += [match.group(1) for match in WORDS_IN_ATTRIBUTES.finditer(bare)]
    return [words.strip() for words in found if re.search(r"[A-Za-z]{2}", words)]


@pytest.mark.parametrize(
    ("code", "words"),
    [
        ("<p>Put the cane in</p>", ["Put the cane in"]),
        ('<Scribed label="Take out" onTake={take} />', ["Take out"]),
        ("<p>\n  ready {time}\n</p>", ["ready"]),
        ("<p>{words.ready}</p>", []),
        ("const some = new Map<string, Row>();\nif (a > b) go(<Row />);", []),
        ("rows.map((row) => row.id).filter((id): id is string => id > x)", []),
    ],
)
def test_the_search_for_literal_words_sees_them_and_nothing_else(code: str, words: list[str]) -> None:
    assert literal_words(code) == words


def test_all_that_a_person_reads_stands_in_words_ts() -> None:
    wrong = [
        f"{path.relative_to(SOURCE)}: {words!r} belongs in words.ts"
        for path in sources()
        if path.suffix == ".tsx"
        for words in literal_words(path.read_text(encoding="utf-8"))
    ]
    assert not wrong, "\n".join(wrong)


def test_a_screen_takes_its_words_from_a_file_of_words() -> None:
    wrong = []
    for room in ROOMS:
        folder = SOURCE / room
        if any(folder.glob("*.tsx")) and not (folder / "words.ts").is_file():
            wrong.append(f"{room}/ has a screen and no words.ts")
    assert not wrong, "\n".join(wrong)


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_client(tmp_path_factory.mktemp("client"))


def zipped_kb(paths: set[Path]) -> float:
    """Kilobytes (1000 bytes) after gzip, as the server sends them."""
    return sum(len(gzip.compress(path.read_bytes(), 9)) for path in paths) / 1000


def with_what_it_imports(scripts: set[Path]) -> set[Path]:
    """Scripts and all that they import before they run, without what they load later by `import()`."""
    reached: set[Path] = set()
    waiting = list(scripts)
    while waiting:
        script = waiting.pop()
        if script in reached:
            continue
        reached.add(script)
        names = re.findall(IMPORT_BUILT, script.read_text(encoding="utf-8"))
        waiting += [(script.parent / name).resolve() for name in names]
    return reached


def test_the_first_screen_loads_no_more_script_than_its_budget(built: Path) -> None:
    """What index.html names, with its imports. Today's page is opened without a tap, so it counts too."""
    index = (built / "index.html").read_text()
    named = re.findall(r'<(?:script|link rel="modulepreload")[^>]*?(?:src|href)="/([^"]+\.js)"', index)
    assert named, "index.html names no script"
    scripts = with_what_it_imports({(built / name).resolve() for name in named})
    routes = "".join(path.read_text(encoding="utf-8") for path in scripts)
    today = re.search(r"today_page\.tsx[\"'`]:\(\)=>(.*?)(?:,[\"'`]|\}\))", routes)
    assert today, "no script of the first screen says where today's page is"
    also = re.findall(r"import\([\"'`]\./([^\"'`]+\.js)", today[1])
    scripts |= with_what_it_imports({(built / "assets" / name).resolve() for name in also})
    size = zipped_kb(scripts)
    told = "\n".join(f"{zipped_kb({path}):6.1f} {path.name}" for path in sorted(scripts))
    assert size <= FIRST_SCREEN_KB, f"{size:.1f} kB of script for the first screen:\n{told}"


def test_all_script_and_style_of_a_bench_day_keep_to_their_budget(built: Path) -> None:
    """All that is built but what only several phones need, and what is foreseen from the records: each of
    those comes in a script of its own, after the first screen."""
    files = {path for path in built.rglob("*") if path.suffix in {".js", ".css"} and "docs" not in path.parts}
    of_phones = {path for path in files if path.name.startswith("phones-")}
    assert len(of_phones) == 1
    assert zipped_kb(of_phones) <= PHONES_KB
    foreseen = {path for path in files if path.name.startswith("foreseen-")}
    assert len(foreseen) == 1
    assert zipped_kb(foreseen) <= FORESEEN_KB
    size = zipped_kb(files - of_phones - foreseen)
    told = "\n".join(f"{zipped_kb({path}):6.1f} {path.name}" for path in sorted(files))
    assert size <= ALL_KB, f"{size:.1f} kB of script and style:\n{told}"


def test_the_fonts_keep_to_their_budget(built: Path) -> None:
    fonts = [path for path in built.rglob("*") if path.suffix == ".woff2"]
    assert fonts, "no font is built in"
    assert sum(path.stat().st_size for path in fonts) / 1000 <= FONTS_KB


def test_the_client_asks_no_other_host_for_anything(built: Path) -> None:
    """Names of XML namespaces and of licences are no requests; a host in a built file else is."""
    harmless = ("http://www.w3.org/", "https://www.w3.org/")
    wrong = []
    for path in built.rglob("*"):
        if path.suffix not in {".js", ".css", ".html", ".webmanifest"} or "docs" in path.parts:
            continue
        hosts = re.findall(r"https?://[\w.-]+/?", path.read_text(encoding="utf-8"))
        wrong += [f"{path.name}: {host}" for host in hosts if not host.startswith(harmless)]
    assert not wrong, "\n".join(wrong)
