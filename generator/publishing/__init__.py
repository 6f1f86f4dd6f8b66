"""{path: bytes} to a site in the output folder: names and links checked, a fresh folder written, then swapped in."""

from __future__ import annotations

from collections.abc import Container, Mapping
from pathlib import Path

from generator.publishing.file_names import check_file_names
from generator.publishing.links import check_links
from generator.publishing.output_folder import OutputFolder


def publish(files: Mapping[str, bytes], output: Path, unchanged: Container[str] = ()) -> None:
    """Put the files in place of what stands in `output`, or leave that as it is.

    Parameters
    ----------
    files : Mapping[str, bytes]
        Content by path relative to the site's root, with forward slashes.
    output : Path
        The folder to publish. It must be new, empty, or one that was published before.
    unchanged : Container[str]
        Paths of files that stand there already, just as they are to be.

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
    check_links(files)
    OutputFolder(output).replace_with(files, unchanged)
