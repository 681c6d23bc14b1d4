"""The documents say what is so."""

import re
import struct
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_the_readme_opens_with_the_job_in_one_paragraph_and_one_picture() -> None:
    blocks = README.split("\n\n")
    assert blocks[0] == "# Easelside"
    assert len(blocks[1].split()) > 60 and not blocks[1].startswith(("#", "!", "-", "`"))
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    assert len(pictures) == 1
    assert (ROOT / pictures[0]).read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"


def test_the_heading_start_holds_exactly_two_blocks_of_one_command_each() -> None:
    start = README.split("\n## Start\n")[1].split("\n## ")[0]
    assert re.findall(r"```\w*\n(.*?)```", start, re.S) == ["python3 server demo\n", "python3 tests\n"]
    assert README.count("```") == 4


def test_continuous_integration_calls_the_readme_s_test_command_and_nothing_else() -> None:
    lines = [
        line for line in (ROOT / ".ci/run").read_text().splitlines() if line and not line.startswith("#")
    ]
    assert lines[-1] == "exec python3 tests"
    assert [line.split()[0] for line in lines] == ["set", "cd", "exec"]


def test_every_command_of_the_command_line_stands_in_the_developers_table() -> None:
    from easelside.__main__ import main

    named = set(re.findall(r"^\| `easelside (\w+)", DEVELOPERS, re.M))
    assert named == set(main.commands)


def test_every_path_that_the_developers_page_names_exists() -> None:
    named = set(re.findall(r"`((?:server|webclient|tests|seed_demo)/[\w./-]*)`", DEVELOPERS))
    assert len(named) > 10
    assert not [path for path in sorted(named) if not (ROOT / path).exists()]


def test_each_table_of_shared_cases_is_run_by_both_sides_but_those_said_to_be_the_phone_s_alone() -> None:
    line = next(line for line in DEVELOPERS.splitlines() if line.startswith("| `tests/shared_cases/`"))
    beside = [path for path in (ROOT / "tests").rglob("test_*.py") if path.parent.name != "laws"]
    server = "".join(path.read_text() for path in beside)
    client = "".join(path.read_text() for path in (ROOT / "tests/webclient").rglob("*.ts"))
    one_sided = set()
    for name in {path.name for path in (ROOT / "tests/shared_cases").iterdir()}:
        named = re.compile(rf"[\"'/]{re.escape(name)}\b")
        assert named.search(client), f"no test of the phone runs {name}"
        if not named.search(server):
            one_sided.add(name)
    assert one_sided == set(re.findall(r"`(\w+\.json)`", line))


def test_the_lock_files_name_no_registry() -> None:
    for name in ("webclient/package-lock.json", "server/locked.txt"):
        assert "://" not in re.sub(
            r'"funding": (\{[^}]*\}|\[[^\]]*\]|"[^"]*")', "", (ROOT / name).read_text()
        ), name


def test_icons_are_as_large_as_the_manifest_says() -> None:
    import json

    manifest = json.loads((ROOT / "webclient/public/manifest.webmanifest").read_text())
    sized = [icon for icon in manifest["icons"] if icon["src"].endswith(".png")]
    assert sized
    for icon in sized:
        head = (ROOT / "webclient/public" / icon["src"].lstrip("/")).read_bytes()[:24]
        assert "x".join(str(n) for n in struct.unpack(">II", head[16:24])) == icon["sizes"]
