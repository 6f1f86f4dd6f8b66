"""The floor of a publish that has nothing to do: look at each file of the output, read and hash each record.

python tests/bench/floor_nothing.py RECORDS OUTPUT
"""

import hashlib
import os
import sys


def below(folder: str) -> list[str]:
    """Return all files below a folder."""
    return [os.path.join(place, name) for place, _, names in os.walk(folder) for name in names]  # noqa: PTH118


def main() -> None:
    """Do it, and print how many files there were."""
    looked_at = [os.stat(path).st_mtime_ns for path in below(sys.argv[2])]  # noqa: PTH116
    read = []
    for path in below(sys.argv[1]):
        with open(path, "rb") as file:  # noqa: PTH123
            read.append(hashlib.sha256(file.read()).hexdigest())
    print(len(looked_at), len(read))


if __name__ == "__main__":
    main()
