"""{path: bytes} to a site in the output folder: names and links checked, a fresh folder written, then swapped in."""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping, Sequence
from pathlib import Path

from generator.publishing.file_names import check_file_names
from generator.publishing.links import link_faults, refuse
from generator.publishing.output_folder import OutputFolder


def publish(
    files: Mapping[str, bytes],
    output: Path,
    unchanged: Container[str] = (),
    faults: Callable[[], Sequence[str]] | None = None,
) -> None:
    """Put the files in place of what stands in `output`, or leave that as it is.

    Parameters
    ----------
    files : Mapping[str, bytes]
        Content by path relative to the site's root, with forward slashes.
    output : Path
        The folder to publish. It must be new, empty, or one that was published before.
    unchanged : Container[str]
        Paths of files that stand there already, just as they are to be.
    faults : Callable[[], Sequence[str]], optional
        Tells what is wrong with the links where they were read before; else they are read here.

    Raises
    ------
    PublishFailed
        A name cannot be published, another publish is at work, or the system refused to write.
    BrokenLink
        A page refers to something that is not among the files.
    WrongUsage
        `output` is no folder that may be replaced.
    """
    check_file_names(files)
    refuse(faults() if faults is not None else link_faults(files))
    OutputFolder(output).replace_with(files, unchanged)
