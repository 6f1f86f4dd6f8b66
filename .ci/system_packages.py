"""See that the system has what the Makefile's targets need; install it on Debian as root, else say what to install.

python3 .ci/system_packages.py site     what `make site` needs
python3 .ci/system_packages.py test     what `make test` needs as well
"""

from __future__ import annotations

import ctypes
import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Need:
    """One thing that must be on the system."""

    package: str
    purpose: str
    present: Callable[[], bool]


def library(*names: str) -> Callable[[], bool]:
    """Make the test whether one of these shared libraries can be loaded."""

    def present() -> bool:
        for name in names:
            try:
                ctypes.CDLL(name)
            except OSError:
                continue
            return True
        return False

    return present


def program(*names: str) -> Callable[[], bool]:
    """Make the test whether one of these programs can be started."""
    return lambda: any(shutil.which(name) for name in names)


NEEDS_OF_SITE = (
    Need("python3-venv", "makes .venv/", lambda: importlib.util.find_spec("ensurepip") is not None),
    Need("libpangoft2-1.0-0", "sets the text of PDFs", library("libpangoft2-1.0.so.0", "libpangoft2-1.0.dylib")),
    Need("libharfbuzz-subset0", "puts fonts into PDFs", library("libharfbuzz-subset.so.0", "libharfbuzz-subset.dylib")),
)
NEEDS_OF_TEST = (
    *NEEDS_OF_SITE,
    Need("chromium", "opens the pages", program("chromium")),
    Need("libatomic1", "drives chromium", library("libatomic.so.1")),
    Need("git", "holds the records of another revision", program("git")),
    Need("poppler-utils", "reads the text of PDFs", program("pdftotext")),
    Need("default-jre-headless", "runs the HTML checker", program("java")),
)
NEEDS = {"site": NEEDS_OF_SITE, "test": NEEDS_OF_TEST}


def install(packages: list[str]) -> int:
    """Install Debian packages as root."""
    print(f"Installing from Debian: {' '.join(packages)}", flush=True)
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    for command in (
        ["apt-get", "update", "-qq"],
        ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages],
    ):
        code = subprocess.run(command, env=environment, stdin=subprocess.DEVNULL, check=False).returncode
        if code != 0:
            print(f"`{' '.join(command)}` ended with {code}; see its message above.", file=sys.stderr)
            return 1
    return 0


def main(arguments: list[str]) -> int:
    """Check, install or say what to install; return the exit code."""
    if len(arguments) != 1 or arguments[0] not in NEEDS:
        print(__doc__, file=sys.stderr)
        return 2
    if sys.version_info < (3, 11):  # noqa: UP036 - whatever Python is found starts this file
        print(
            f"Found Python {sys.version.split()[0]}, expected 3.11 or newer. Install one, "
            "then name it: make PYTHON=python3.11 ...",
            file=sys.stderr,
        )
        return 1
    missing = [need for need in NEEDS[arguments[0]] if not need.present()]
    if not missing:
        return 0
    packages = [need.package for need in missing]
    if shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        return install(packages)
    print("This system lacks:", file=sys.stderr)
    for need in missing:
        print(f"  {need.package} ({need.purpose})", file=sys.stderr)
    print(
        f"On Debian or a system made from it: sudo apt-get install --no-install-recommends {' '.join(packages)}\n"
        "Elsewhere: the same things under the names that your system gives them. Then call make again.",
        file=sys.stderr,
    )
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
