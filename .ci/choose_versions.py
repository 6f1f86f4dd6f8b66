"""Install everything anew without pins, in a throw-away environment, and write the versions that were chosen.

python3 .ci/choose_versions.py .ci/constraints.txt
"""

import subprocess
import sys
import tempfile
import tomllib
from itertools import chain
from pathlib import Path


def chosen_versions(project: Path) -> list[str]:
    """Return `name==version` for all that the project and its groups need, with the newest pip and setuptools."""
    declared = tomllib.loads(project.read_text(encoding="utf-8"))
    wanted = list(chain(declared["project"]["dependencies"], *declared["dependency-groups"].values()))
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.executable, "-m", "venv", folder], check=True)
        pip = [f"{folder}/bin/python", "-m", "pip", "--disable-pip-version-check"]
        subprocess.run([*pip, "install", "--quiet", "--upgrade", "pip", "setuptools", *wanted], check=True)
        frozen = subprocess.run([*pip, "freeze", "--all"], check=True, capture_output=True, text=True).stdout
    return sorted(frozen.split(), key=lambda line: line.partition("==")[0].lower())


if __name__ == "__main__":
    lines = chosen_versions(Path(__file__).resolve().parent.parent / "pyproject.toml")
    Path(sys.argv[1]).write_text("\n".join(lines) + "\n", encoding="utf-8")
