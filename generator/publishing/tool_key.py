"""One key of everything that makes a site beside its records: code, templates, libraries, typefaces.

Two builds with the same key and the same records give the same bytes. It is found out without importing any library.
"""

from __future__ import annotations

import ctypes
import hashlib
import os
import platform
import sys
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

_SYSTEM_LIBRARIES = (
    ("libpango-1.0.so.0", "pango_version_string"),
    ("libharfbuzz.so.0", "hb_version_string"),
    ("libpangoft2-1.0.so.0", None),
    ("libharfbuzz-subset.so.0", None),
    ("libfontconfig.so.1", None),
    ("libfreetype.so.6", None),
)
"""The libraries that set PDFs, and the function by which one tells its version."""
_TYPEFACES = ("/usr/share/fonts", "/usr/local/share/fonts", "~/.fonts", "~/.local/share/fonts", "/etc/fonts")
"""Where fontconfig looks by default, and what it is told: a character that no brought face has is set from there."""
_VARIABLES = ("FONTCONFIG_FILE", "FONTCONFIG_PATH", "FONTCONFIG_SYSROOT", "XDG_DATA_HOME", "XDG_CONFIG_HOME")
_CODE = (".py", ".yaml", ".html", ".md", ".xml", ".css", ".js", ".ttf", ".woff2", ".txt", ".svg")


def tool_key() -> str:
    """Return the key. [SHA-256, hexadecimal]"""
    digest = hashlib.sha256()
    for part in (_interpreter(), _code(), _libraries(), _system_libraries(), _typefaces()):
        for line in part:
            digest.update(line.encode("utf-8", "surrogateescape") + b"\n")
        digest.update(b"\n")
    return digest.hexdigest()


def _interpreter() -> Iterator[str]:
    yield f"{platform.python_implementation()} {sys.version} {platform.machine()} {sys.byteorder}"


def _code() -> Iterator[str]:
    for package in ("generator", "site_templates"):
        root = Path(str(files(package)))
        for path in sorted(_below(root)):
            if path.suffix in _CODE:
                yield f"{package} {path.relative_to(root)} {hashlib.sha256(path.read_bytes()).hexdigest()}"


def _below(folder: Path) -> Iterator[Path]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                if entry.name != "__pycache__":
                    yield from _below(Path(entry.path))
            else:
                yield Path(entry.path)


def _libraries() -> Iterator[str]:
    """Yield name and version of every installed library, as the folders of their descriptions are named."""
    for place in sys.path:
        try:
            names = os.listdir(place or ".")  # noqa: PTH208 - names only, of folders that may be archives
        except OSError:
            continue
        yield from sorted(name for name in names if name.endswith((".dist-info", ".egg-info")))


def _system_libraries() -> Iterator[str]:
    for name, tells in _SYSTEM_LIBRARIES:
        try:
            library = ctypes.CDLL(name)
        except OSError:
            yield f"{name} absent"
            continue
        version = ""
        if tells is not None:
            function = getattr(library, tells)
            function.restype = ctypes.c_char_p
            version = function().decode()
        yield f"{name} {version}"
    yield from sorted(_loaded_files())


def _loaded_files() -> set[str]:
    """Return the files of the libraries as the system tells them; their names hold versions that no function tells."""
    # To the dot: libraries for Python bring their own copies under longer names, which a process has loaded or not yet.
    names = tuple(f"{name.partition('.so')[0]}.so" for name, _ in _SYSTEM_LIBRARIES)
    try:
        lines = Path("/proc/self/maps").read_text(encoding="utf-8", errors="surrogateescape").splitlines()
    except OSError:
        return set()
    paths = {line.split(maxsplit=5)[5] for line in lines if line.count("/") and len(line.split(maxsplit=5)) > 5}
    return {_described(Path(path)) for path in paths if Path(path).name.startswith(names)}


def _typefaces() -> Iterator[str]:
    for variable in _VARIABLES:
        yield f"{variable}={os.environ.get(variable, '')}"
    for folder in _TYPEFACES:
        place = Path(folder).expanduser()
        if place.is_dir():
            try:
                yield from sorted(_described(path) for path in _below(place))
            except OSError as error:
                yield f"{place}: {error.strerror}"


def _described(path: Path) -> str:
    try:
        status = path.stat()
    except OSError:
        return f"{path} absent"
    return f"{path} {status.st_size} {status.st_mtime_ns}"
