"""Paths that are handed to a command and cannot be looked at are wrong usage, never a failure of the generator."""

from pathlib import Path

import pytest

from generator.command_line import run

TOO_LONG = "a" * 5_000


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["check", TOO_LONG], f"inward: [wrong-usage] found nothing at `{TOO_LONG}`"),
        (["score", f"{TOO_LONG}.yaml"], f"inward: [wrong-usage] found nothing at `{TOO_LONG}.yaml`"),
        (["score", "x", "--records", TOO_LONG], f"inward: [wrong-usage] found no folder `{TOO_LONG}`"),
        (["check", "/dev/null"], "inward: [wrong-usage] found `/dev/null` outside any records folder"),
    ],
    ids=["check", "score", "records of score", "a device"],
)
def test_a_path_that_cannot_be_looked_at_is_wrong_usage(
    arguments: list[str], message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(arguments) == 2
    assert capsys.readouterr().err.startswith(message)


def test_a_link_to_the_records_may_be_named(
    small_records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # Who names the folder chooses it; what stands in it is a stranger's.
    (tmp_path / "link").symlink_to(small_records)
    assert run(["check", str(tmp_path / "link")]) == 0
    assert capsys.readouterr().out.startswith("No problems in ")
