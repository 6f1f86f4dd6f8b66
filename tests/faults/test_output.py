"""Faults of the place that is published into: exit code, message, and everything around the site as it was."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.faults.places import WITHOUT_PRIVILEGES, Ended, Place, mounted, names_in, tree_hash


def expect(ended: Ended, code: int, message: str) -> None:
    assert (ended.code, ended.last, ended.out) == (code, message, "")


def refused(
    output: Path, reason: str, where: Path, remedy: str = "Check the room left on the disk and who may write there."
) -> str:
    return (
        f"inward: [publish-failed] the system refused to write {output}: {reason} ({where}). "
        f"The old site, if there was one, still stands. {remedy}"
    )


def size_of(folder: Path) -> int:
    """Return the room that a folder takes on a disk. [bytes]"""
    return sum(-(-path.stat().st_size // 4096) * 4096 for path in folder.rglob("*"))


def test_a_full_disk_leaves_the_old_site(place: Place, open_folder: Path) -> None:
    room = size_of(place.output) * 3 // 2
    disk = open_folder / "disk"
    disk.mkdir()
    with mounted(disk, "-t", "tmpfs", "-o", f"size={room}", "tmpfs"):
        shutil.copytree(place.output, disk / "output")
        place.output = disk / "output"
        before = tree_hash(disk)
        ended = place.run()
        assert (ended.code, ended.out) == (3, "")
        # Which file finds the disk full is for the file system to say.
        named = Path(ended.last.partition("(")[2].partition(")")[0])
        assert named.is_relative_to(disk)
        assert ended.last == refused(place.output, "No space left on device", named)
        assert tree_hash(disk) == before
        assert names_in(disk) == ["output"]


def test_a_disk_without_any_room_is_found_before_the_work(place: Place, open_folder: Path) -> None:
    disk = open_folder / "disk"
    disk.mkdir()
    # One inode is the root of the file system, the other the folder that stands in it.
    with mounted(disk, "-t", "tmpfs", "-o", "size=1M,nr_inodes=2", "tmpfs"):
        place.output = disk / "output"
        place.output.mkdir()
        expect(
            place.run(),
            3,
            refused(place.output, "No space left on device", disk / ".output.fresh"),
        )
        assert names_in(disk) == ["output"]
        assert names_in(place.output) == []


def test_a_read_only_disk_is_found_before_the_work(place: Place) -> None:
    before = tree_hash(place.output.parent)
    parent = place.output.parent
    with mounted(parent, "--bind", str(parent)):
        subprocess.run(["mount", "-o", "remount,bind,ro", str(parent)], check=True)
        ended = place.run()
    expect(
        ended,
        3,
        refused(place.output, "Read-only file system", parent / ".output.fresh"),
    )
    assert ended.err.count("\n") == 1
    assert tree_hash(parent) == before


def test_a_parent_that_may_not_be_written_is_found_before_the_work(place: Place) -> None:
    before = tree_hash(place.output.parent)
    place.output.parent.chmod(0o555)
    ended = place.run(before=WITHOUT_PRIVILEGES)
    expect(
        ended,
        3,
        refused(place.output, "Permission denied", place.output.parent / ".output.fresh"),
    )
    assert ended.err.count("\n") == 1
    assert tree_hash(place.output.parent) == before


def test_a_parent_that_may_not_be_entered_is_named(place: Place) -> None:
    before = tree_hash(place.output.parent)
    place.output.parent.chmod(0o000)
    expect(
        place.run(before=WITHOUT_PRIVILEGES),
        3,
        refused(place.output, "Permission denied", place.output.parent),
    )
    assert tree_hash(place.output.parent) == before


def test_an_output_that_is_a_mount_point_is_refused(place: Place) -> None:
    with mounted(place.output, "-t", "tmpfs", "-o", "size=1M", "tmpfs"):
        expect(
            place.run(),
            2,
            f"inward: [wrong-usage] {place.output} is a mount point, which cannot be exchanged for a new folder. "
            f"Name a folder inside it: --output {place.output}/site",
        )
        assert names_in(place.output) == []
    assert names_in(place.output.parent) == ["output"]


def test_a_mount_of_the_same_file_system_is_found_at_the_swap(place: Place) -> None:
    before = tree_hash(place.output.parent)
    with mounted(place.output, "--bind", str(place.output)):
        expect(
            place.run(),
            3,
            refused(
                place.output,
                "Device or resource busy",
                place.output,
                f"It is a mount point; name a folder inside it: --output {place.output}/site",
            ),
        )
        assert tree_hash(place.output.parent) == before


def test_a_folder_inside_a_mount_is_published_into(place: Place) -> None:
    with mounted(place.output, "-t", "tmpfs", "-o", "size=20M", "tmpfs"):
        inside = place.output / "site"
        ended = place.run("publish", "--records", str(place.records), "--output", str(inside))
        assert ended.code == 0
        assert names_in(place.output) == ["site"]


def test_an_output_that_is_a_file_is_refused(place: Place) -> None:
    place.output = place.output.parent / "file"
    place.output.write_text("a letter")
    before = tree_hash(place.output.parent)
    expect(
        place.run(),
        2,
        f"inward: [wrong-usage] {place.output} is a file, and a folder is to be published. Name another with --output.",
    )
    assert tree_hash(place.output.parent) == before


@pytest.mark.parametrize("target", ["output", "nowhere"])
def test_an_output_that_is_a_link_is_refused(place: Place, target: str) -> None:
    place.output = place.output.parent / "link"
    place.output.symlink_to(target)
    before = tree_hash(place.output.parent)
    expect(
        place.run(),
        2,
        f"inward: [wrong-usage] {place.output} is a symbolic link. Name the folder itself with --output.",
    )
    assert tree_hash(place.output.parent) == before


def test_a_strangers_folder_is_never_replaced(place: Place) -> None:
    place.output = place.output.parent / "thesis"
    place.output.mkdir()
    (place.output / "chapter").write_text("ten years of work")
    before = tree_hash(place.output.parent)
    expect(
        place.run(),
        2,
        f"inward: [wrong-usage] {place.output} holds files that `inward publish` did not write, and publishing would "
        "remove them. Name a new or empty folder with --output, or empty this one yourself.",
    )
    assert tree_hash(place.output.parent) == before


def test_a_parent_that_does_not_exist_is_named(place: Place) -> None:
    before = tree_hash(place.output.parent)
    missing = place.output.parent / "missing"
    expect(
        place.run("publish", "--records", str(place.records), "--output", str(missing / "output")),
        2,
        f"inward: [wrong-usage] the folder {missing} does not exist, so output cannot be put into it. Make it first.",
    )
    assert tree_hash(place.output.parent) == before


def test_of_two_publishes_at_once_one_is_told_to_wait(place: Place) -> None:
    before = tree_hash(place.output)
    holder = (
        "import fcntl, os, sys\n"
        "descriptor = os.open(sys.argv[1], os.O_RDONLY)\n"
        "fcntl.flock(descriptor, fcntl.LOCK_EX)\n"
        "print('held', flush=True)\n"
        "sys.stdin.read()\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", holder, str(place.output.parent)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "held\n"
        expect(
            place.run(),
            3,
            f"inward: [publish-failed] another `inward publish` is writing into {place.output.parent} at this moment. "
            "Nothing was written; wait until it has ended, then publish again.",
        )
        assert tree_hash(place.output) == before
        assert other.stdin is not None
        other.stdin.close()
    assert place.run().code == 0
    assert tree_hash(place.output) != before


def test_two_publishes_started_together_leave_one_whole_site(place: Place) -> None:
    assert place.run().code == 0
    whole = tree_hash(place.output.parent)
    words = [sys.executable, "-m", "generator", *place.publishing]
    children = [subprocess.Popen(words, stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True) for _ in range(2)]
    errors = [child.communicate()[1] for child in children]
    codes = [child.returncode for child in children]
    assert 0 in codes
    assert set(codes) <= {0, 3}
    told = [error for error, code in zip(errors, codes, strict=True) if code]
    assert all("another `inward publish` is writing into" in error for error in told)
    assert tree_hash(place.output.parent) == whole


def test_modes_do_not_follow_the_users_mask(place: Place) -> None:
    ended = place.run(before=("sh", "-c", 'umask 077; exec "$@"', "sh"))
    assert ended.code == 0
    modes = {(path.is_dir(), oct(path.stat().st_mode & 0o777)) for path in (place.output, *place.output.rglob("*"))}
    assert modes == {(True, "0o755"), (False, "0o644")}
