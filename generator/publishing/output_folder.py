"""The output folder: a fresh folder is written beside it, then swapped in, so that readers see the old site or the new.

Beside `output` two names are used, and only while a publish is at work:

    .output.fresh      a site being written, or one that is being removed: never worth keeping
    .output.previous   the old site, between the two renames of a system that cannot exchange two folders

Whatever an interrupted publish left there, the next one puts right before it does anything else. A signal that asks
the process to stop waits until the folders are in order; before the swap it ends the publish, after it comes too late.
"""

from __future__ import annotations

import errno
import fcntl
import os
import shutil
from collections.abc import Container, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from generator.errors import PublishFailed, WrongUsage
from generator.publishing.exchange import exchange
from generator.publishing.failpoint import reach
from generator.publishing.stop_signals import stop_signals_held

FOLDER_MODE = 0o755
FILE_MODE = 0o644
"""For everyone to read, whatever the user's mask says: a site is there to be served."""
MARK = ".published-by-inward"
"""A file in every published folder: only a folder that holds it is ever replaced."""
_MARK_TEXT = (
    b"This folder is written by `inward publish`, which replaces it as a whole. Change the records, not this.\n"
)


class OutputFolder:
    """The folder that a site is published into."""

    def __init__(self, output: Path) -> None:
        """Name the folder and the two names used beside it; nothing is touched yet."""
        self.output = Path(os.path.abspath(output))  # noqa: PTH100 - a symbolic link is to be refused, not followed
        self.parent = self.output.parent
        self.fresh = self.parent / f".{self.output.name}.fresh"
        self.previous = self.parent / f".{self.output.name}.previous"

    def prepare(self) -> None:
        """Put right what an interrupted publish left, and refuse early what could not be published into.

        Raises
        ------
        WrongUsage
            The folder is something that `inward publish` did not make.
        PublishFailed
            Another publish is at work, or the system refused.
        """
        with self._alone(), stop_signals_held():
            self._recover()
            self._check_replaceable()
            self.fresh.mkdir()
            self.fresh.rmdir()

    def replace_with(self, files: Mapping[str, bytes], unchanged: Container[str] = ()) -> None:
        """Write the files into a fresh folder and swap it in.

        Those of the paths `unchanged` are known to stand in the old site just as they are to be; they are taken over.

        Raises
        ------
        WrongUsage
            The folder is something that `inward publish` did not make.
        PublishFailed
            Another publish is at work, or the system refused. The old site still stands.
        """
        with self._alone(), stop_signals_held() as asked_to_stop:
            self._recover()
            self._check_replaceable()
            try:
                self._write_fresh(files, unchanged, asked_to_stop)
                reach("before-swap")
                self._swap()
            except BaseException:
                shutil.rmtree(self.fresh, ignore_errors=True)
                raise
            reach("after-swap")
            self._remove_old()
            asked_to_stop.clear()

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Hold the parent folder's lock, which the system lets go when the process ends, however it ends."""
        try:
            descriptor = os.open(self.parent, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
        except (FileNotFoundError, NotADirectoryError) as error:
            raise WrongUsage(
                f"the folder {self.parent} does not exist, so {self.output.name} cannot be put into it. Make it first."
            ) from error
        except OSError as error:
            raise self._refused(error) from error
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
            yield
        except BlockingIOError as error:
            raise PublishFailed(
                f"another `inward publish` is writing into {self.parent} at this moment. "
                "Nothing was written; wait until it has ended, then publish again."
            ) from error
        except OSError as error:
            raise self._refused(error) from error
        finally:
            os.close(descriptor)

    def _refused(self, error: OSError) -> PublishFailed:
        remedy = "Check the room left on the disk and who may write there."
        if error.errno in (errno.EBUSY, errno.EXDEV):
            # A folder of the same file system that is mounted here is not known for one beforehand.
            remedy = f"It is a mount point; name a folder inside it: --output {self.output / 'site'}"
        return PublishFailed(
            f"the system refused to write {self.output}: {error.strerror or error} ({error.filename or self.parent}). "
            f"The old site, if there was one, still stands. {remedy}"
        )

    def _recover(self) -> None:
        """Bring back the old site where a swap by two renames stopped half-way, and remove leftovers."""
        if self.previous.exists():
            if self.output.exists():
                self._remove_fresh()
                self.previous.rename(self.fresh)
            else:
                self.previous.rename(self.output)
        self._remove_fresh()

    def _check_replaceable(self) -> None:
        if self.output.is_symlink():
            raise WrongUsage(f"{self.output} is a symbolic link. Name the folder itself with --output.")
        if not self.output.exists():
            return
        if self.output.is_mount():
            raise WrongUsage(
                f"{self.output} is a mount point, which cannot be exchanged for a new folder. "
                f"Name a folder inside it: --output {self.output / 'site'}"
            )
        if not self.output.is_dir():
            raise WrongUsage(f"{self.output} is a file, and a folder is to be published. Name another with --output.")
        if not (self.output / MARK).is_file() and any(self.output.iterdir()):
            raise WrongUsage(
                f"{self.output} holds files that `inward publish` did not write, and publishing would remove them. "
                "Name a new or empty folder with --output, or empty this one yourself."
            )

    def _write_fresh(self, files: Mapping[str, bytes], unchanged: Container[str], asked_to_stop: Sequence[int]) -> None:
        for folder in sorted({Path(), *(parent for path in files for parent in Path(path).parents)}):
            _make_folder(self.fresh / folder)
        _write_file(self.fresh / MARK, _MARK_TEXT)
        for number, path in enumerate(sorted(files)):
            if asked_to_stop:
                raise PublishFailed(f"it was asked to stop while it wrote {self.output}. The old site still stands.")
            if path not in unchanged or not _taken_over(self.output / path, self.fresh / path):
                _write_file(self.fresh / path, files[path])
            if number == len(files) // 2:
                reach("during-write")

    def _swap(self) -> None:
        if not self.output.exists():
            self.fresh.rename(self.output)
        elif exchange(self.fresh, self.output):
            reach("during-swap")
        else:
            self._swap_by_two_renames()

    def _swap_by_two_renames(self) -> None:
        self.output.rename(self.previous)
        reach("during-swap")
        try:
            self.fresh.rename(self.output)
        except OSError:
            self.previous.rename(self.output)
            raise
        # Under the name of things to be removed before it is: `.previous` always holds a whole site.
        self.previous.rename(self.fresh)

    def _remove_old(self) -> None:
        try:
            self._remove_fresh()
        except OSError as error:
            raise PublishFailed(
                f"the new site is in place, but the old one, now {self.fresh}, could not be removed: "
                f"{error.strerror or error} ({error.filename}). Remove it yourself, or let the next publish try again."
            ) from error

    def _remove_fresh(self) -> None:
        if self.fresh.exists():
            shutil.rmtree(self.fresh)


def _make_folder(folder: Path) -> None:
    folder.mkdir()
    folder.chmod(FOLDER_MODE)


def _taken_over(old: Path, fresh: Path) -> bool:
    """Give the file of the old site a second name in the fresh folder; say whether the system could."""
    try:
        fresh.hardlink_to(old)
    except OSError:
        return False
    return True


def _write_file(file: Path, content: bytes) -> None:
    file.write_bytes(content)
    file.chmod(FILE_MODE)
