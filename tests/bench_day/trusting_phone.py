"""Chromium with a certificate store of its own: a phone that learned to trust the workshop, or did not."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import BrowserContext, Playwright

from tests.bench_day.phone import FLAGS


def trust(home: Path, der: bytes, name: str = "workshop") -> None:
    """What the trust page tells a Linux user to do, into the store that Chromium reads under this home."""
    certutil = shutil.which("certutil")
    assert certutil, "the trust tests need certutil (Debian: libnss3-tools) on the PATH"
    store = home / ".pki/nssdb"
    store.mkdir(parents=True, exist_ok=True)
    (home / "ca.crt").write_bytes(der)
    place = f"sql:{store}"
    if not (store / "cert9.db").exists():
        subprocess.run([certutil, "-d", place, "-N", "--empty-password"], check=True, timeout=20)
    words = ["-d", place, "-A", "-t", "C,,", "-n", name, "-i", str(home / "ca.crt")]
    subprocess.run([certutil, *words], check=True, timeout=20)


@contextmanager
def phone_of(playwright: Playwright, home: Path, resolves: dict[str, str]) -> Iterator[BrowserContext]:
    """A browser whose profile and store lie under `home`; `resolves` stands for the network's own names."""
    chromium = shutil.which("chromium")
    assert chromium, "the browser tests need Chromium on the PATH"
    rules = ", ".join(f"MAP {name} {address}" for name, address in resolves.items())
    context = playwright.chromium.launch_persistent_context(
        str(home / "profile"),
        executable_path=chromium,
        args=[*FLAGS, f"--host-resolver-rules={rules}"],
        env={**os.environ, "HOME": str(home)},
        viewport={"width": 390, "height": 844},
        device_scale_factor=2,
        has_touch=True,
        timeout=30_000,
    )
    context.set_default_timeout(10_000)
    try:
        yield context
    finally:
        context.close()
