"""Results with all their workings, passed on from the job that scores a device to the one that makes its pages.

They are too large to be sent about or held in memory for a whole catalogue, and scoring again takes ten times as long
as reading them. The folder is of one build alone and for its user alone: nothing in it outlives the build, and no other
build reads it. (What outlives a build is in `generator.publishing.kept_files`, where nothing is pickled.)
"""

from __future__ import annotations

import pickle
import shutil
import tempfile
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from generator.model.result import RecordResult
from generator.publishing.cache_folder import write_at_once

_PREFIX = "scored-"
_DAY = 86_400
"""What a build left that was killed so long ago is removed. [s]"""


@dataclass(frozen=True)
class ScoredHere:
    """Results of this build's own jobs, by device; each is taken once."""

    folder: Path

    def put(self, device: str, records: Mapping[str, RecordResult]) -> None:
        """Pass on the results of a device's records."""
        # What cannot be passed on, as where the disk is full, is made again.
        with suppress(OSError, pickle.PicklingError):
            write_at_once(self.folder / device, (pickle.dumps(dict(records), protocol=pickle.HIGHEST_PROTOCOL),))

    def take(self, device: str) -> dict[str, RecordResult] | None:
        """Return the results of a device's records, or None where this build did not make them."""
        place = self.folder / device
        try:
            content = place.read_bytes()
        except OSError:
            return None
        place.unlink(missing_ok=True)
        records: dict[str, RecordResult] = pickle.loads(content)
        return records


@contextmanager
def scored_here() -> Iterator[ScoredHere]:
    """Give the folder of one build, and remove it in the end."""
    for left in Path(tempfile.gettempdir()).glob(f"{_PREFIX}*"):
        with suppress(OSError):
            if left.stat().st_mtime < time.time() - _DAY:
                shutil.rmtree(left, ignore_errors=True)
    with tempfile.TemporaryDirectory(prefix=_PREFIX, ignore_cleanup_errors=True) as name:
        yield ScoredHere(Path(name))
