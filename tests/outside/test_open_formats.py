"""Judges from elsewhere read the open data: frictionless, jsonschema, a RelaxNG grammar of Atom, pyld, schema.org."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from frictionless import Package
from jsonschema import Draft202012Validator
from lxml import etree, html
from pyld import jsonld

from generator.rendering.feeds import pages_for_programs
from generator.rendering.open_data import open_data
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import a_device, a_test

HERE = Path(__file__).resolve().parent
GRAMMAR = etree.RelaxNG(etree.parse(HERE / "rfc4287.rng"))
ATOM = "{http://www.w3.org/2005/Atom}"
SCHEMA_ORG = "https://schema.org/"
TERMS: dict[str, dict[str, Any]] = json.loads((HERE / "schema_org_terms.json").read_text())["types"]
LITERALS = {"Text": str, "URL": str, "Date": str, "DateTime": str, "Boolean": bool, "Number": int | float}


@pytest.fixture(scope="module")
def small_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The data of a small catalogue: a tested device that is withdrawn, and texts that a spreadsheet would run."""
    gone = {"date": "2025-09-02", "reason": "=1+1"}
    amended = [{"date": "2025-08-01", "reason": '"quoted"\nin two lines', "changed": "-5, then +5"}]
    device = a_device(name="=Device", price="19.50 EUR", mass="0.3 kg", withdrawn=gone)
    sessions = [given(150.0), given(80.0, id="second", donning=2, outcome="completed")]
    test = a_test(sessions, amendments=amended, withdrawn=gone)
    site = shown(a_whole_catalogue(test, device=device, publication={"data_licence": "As the society decides"}))
    return written(
        open_data(site.data, ()) | pages_for_programs(site, ["index.html"]), tmp_path_factory.mktemp("small")
    )


@pytest.fixture(scope="module")
def bare_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The data of a catalogue in which nothing was tested."""
    site = shown(a_whole_catalogue(device=a_device()))
    return written(open_data(site.data, ()), tmp_path_factory.mktemp("bare"))


def written(files: dict[str, bytes], folder: Path) -> Path:
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    return folder


def package_faults(site: Path) -> list[str]:
    """Return what frictionless has to say of a data package: its descriptor, each cell, keys, relations, hashes."""
    report = Package(str(site / "data" / "datapackage.json")).validate()
    found = [f"package: {error.message}" for error in report.errors]
    return found + [f"{task.name}: {error.type}: {error.message}" for task in report.tasks for error in task.errors]


def test_the_data_package_of_the_demo_is_valid(demo_site: Path) -> None:
    assert package_faults(demo_site) == []
    descriptor = json.loads((demo_site / "data" / "datapackage.json").read_bytes())
    held = {f"data/{resource['path']}" for resource in descriptor["resources"]}
    assert held == {str(path.relative_to(demo_site)) for path in (demo_site / "data").rglob("*.csv")}
    records = len(list((demo_site / "records").glob("*.json")))
    assert (demo_site / "data" / "records.csv").read_bytes().count(b".html\r\n") == records
    assert {"foreignKeys", "primaryKey", "fields", "missingValues"} <= set(descriptor["resources"][1]["schema"])


def test_the_data_packages_of_small_catalogues_are_valid(small_site: Path, bare_site: Path) -> None:
    assert package_faults(small_site) == []
    assert package_faults(bare_site) == []
    assert "'=Device" in (small_site / "data" / "devices.csv").read_text(encoding="utf-8")
    licence = json.loads((small_site / "data" / "datapackage.json").read_bytes())["licenses"]
    assert [list(each) for each in licence] == [["path", "title"]]


@pytest.mark.parametrize(
    ("file", "before", "after", "words"),
    [
        ("figures.csv", b"test,device,fit", b"other,device,fit", "foreign-key"),
        ("figures.csv", b",equal,", b",about,", "constraint-error"),
        ("devices.csv", b",300.0,", b",heavy,", "type-error"),
        ("sessions.csv", b"test,device,second", b"test,device,am", "primary-key"),
        ("records.csv", b"2025-07-01", b"2025-07-02", "hash-count"),
    ],
)
def test_what_is_wrong_in_a_package_is_found(
    file: str, before: bytes, after: bytes, words: str, small_site: Path, tmp_path: Path
) -> None:
    files = {str(path.relative_to(small_site)): path.read_bytes() for path in small_site.rglob("*") if path.is_file()}
    assert before in files[f"data/{file}"], files[f"data/{file}"]
    files[f"data/{file}"] = files[f"data/{file}"].replace(before, after, 1)
    assert any(words in fault for fault in package_faults(written(files, tmp_path)))


def validator(site: Path, name: str) -> Draft202012Validator:
    schema = json.loads((site / "data" / "schemas" / f"{name}.schema.json").read_bytes())
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def test_every_json_file_of_the_demo_is_as_its_schema_says(demo_site: Path) -> None:
    of_records, of_catalogue = validator(demo_site, "record"), validator(demo_site, "catalogue")
    files = sorted((demo_site / "records").glob("*.json"))
    assert len(files) > 40
    for file, judge in [(demo_site / "data" / "catalogue.json", of_catalogue), *((file, of_records) for file in files)]:
        content = json.loads(file.read_bytes())
        assert [f"{file.name}: {error.json_path}: {error.message}" for error in judge.iter_errors(content)] == []
        assert content["$schema"] == judge.schema["$id"]


def break_unit(content: Any) -> None:
    content["results"]["figures"][0]["unit"] = 1


def break_key(content: Any) -> None:
    content["published_record"]["colour"] = "blue"


def break_wearer(content: Any) -> None:
    content["published_record"]["fit"][0]["wearer"] = "wren"


def break_working(content: Any) -> None:
    content["results"]["figures"][0]["working"] = None


def break_results(content: Any) -> None:
    del content["results"]["verdicts"]


@pytest.mark.parametrize("harm", [break_unit, break_key, break_wearer, break_working, break_results])
def test_a_broken_record_is_found_by_its_schema(harm: Callable[[Any], None], small_site: Path) -> None:
    judge, content = validator(small_site, "record"), json.loads((small_site / "records" / "test.json").read_bytes())
    assert list(judge.iter_errors(content)) == []
    harm(content)
    assert list(judge.iter_errors(content)) != []


def test_the_feeds_are_atom(demo_site: Path, small_site: Path) -> None:
    for site in (demo_site, small_site):
        feed = etree.parse(site / "feed.xml")
        assert GRAMMAR.validate(feed), GRAMMAR.error_log
        # source: RFC 4287, sections 4.2.6 and 4.2.15 (from memory): each id once; updated of the newest entry here
        ids = [found.text for found in feed.iter(f"{ATOM}id")]
        assert len(ids) == len(set(ids))
        updated = [entry.findtext(f"{ATOM}updated") for entry in feed.iter(f"{ATOM}entry")]
        assert updated == sorted(updated, key=str, reverse=True)
        assert feed.getroot().findtext(f"{ATOM}updated") == updated[0]


def test_every_event_of_the_demo_is_in_the_feed_and_leads_to_a_page(demo_site: Path) -> None:
    feed = etree.parse(demo_site / "feed.xml").getroot()
    base = next(link.get("href", "") for link in feed.findall(f"{ATOM}link") if link.get("rel") == "alternate")
    entries = list(feed.iter(f"{ATOM}entry"))
    targets = [str(entry.find(f"{ATOM}link").get("href")).removeprefix(base) for entry in entries]
    assert [target for target in targets if not (demo_site / target).is_file()] == []
    kinds = [entry.find(f"{ATOM}category").get("term") for entry in entries]
    records = len(list((demo_site / "records").glob("*.json")))
    assert kinds.count("new") == records + len({target for target in targets if target.startswith("devices/")})
    assert {"amended", "withdrawn"} < set(kinds)


@pytest.mark.parametrize("part", ["id", "title", "updated"])
@pytest.mark.parametrize("of", [".", f"{ATOM}entry"])
def test_a_feed_without_a_part_is_no_atom(of: str, part: str, small_site: Path) -> None:
    # source: RFC 4287, sections 4.1.1 and 4.1.2: exactly one atom:id, atom:title and atom:updated
    feed = etree.parse(small_site / "feed.xml")
    parent = feed.getroot().find(of)
    parent.remove(parent.find(f"{ATOM}{part}"))
    assert not GRAMMAR.validate(feed)


def test_a_day_alone_is_no_moment_of_atom(small_site: Path) -> None:
    # source: RFC 4287, section 3.3: a date-time of RFC 3339
    feed = etree.parse(small_site / "feed.xml")
    feed.getroot().find(f"{ATOM}updated").text = "2025-09-02"
    assert not GRAMMAR.validate(feed)


def linked_data(page: Path) -> dict[str, Any]:
    (script,) = html.fromstring(page.read_bytes()).xpath("//script[@type='application/ld+json']")
    data: dict[str, Any] = json.loads(script.text)
    return data


def local_context(address: str, options: dict[str, Any]) -> dict[str, Any]:
    """Give the context of schema.org in short, since there is no network: every term belongs to its vocabulary."""
    assert address == "https://schema.org"
    return {
        "contextUrl": None,
        "documentUrl": address,
        "contentType": "application/ld+json",
        "document": {"@context": {"@vocab": SCHEMA_ORG}},
    }


def vocabulary_faults(node: dict[str, Any]) -> Iterator[str]:
    """Go through what pyld expanded and yield each type, property or kind of value that schema.org does not have."""
    (kind,) = (name.removeprefix(SCHEMA_ORG) for name in node["@type"])
    if kind not in TERMS:
        yield f"no type {kind}"
        return
    allowed = properties_of(kind)
    for name, values in node.items():
        if name.startswith("@"):
            continue
        term = name.removeprefix(SCHEMA_ORG)
        if term not in allowed:
            yield f"{kind} has no {term}"
            continue
        for value in values:
            if "@value" in value:
                kinds = tuple(LITERALS[each] for each in allowed[term] if each in LITERALS)
                if not any(isinstance(value["@value"], each) for each in kinds):
                    yield f"{kind}.{term} takes {allowed[term]}, not {value['@value']!r}"
            else:
                ancestors = set().union(*(with_parents(each.removeprefix(SCHEMA_ORG)) for each in value["@type"]))
                if not ancestors & set(allowed[term]):
                    yield f"{kind}.{term} takes {allowed[term]}, not {value['@type']}"
                yield from vocabulary_faults(value)


def with_parents(kind: str) -> set[str]:
    return {kind}.union(*(with_parents(parent) for parent in TERMS[kind]["parents"])) if kind in TERMS else {kind}


def properties_of(kind: str) -> dict[str, list[str]]:
    return {name: values for each in with_parents(kind) for name, values in TERMS[each]["properties"].items()}


def expanded(data: dict[str, Any]) -> dict[str, Any]:
    (node,) = jsonld.expand(data, {"documentLoader": local_context})
    return dict(node)


def test_every_description_of_the_demo_is_linked_data_by_the_terms_of_schema_org(demo_site: Path) -> None:
    pages = [demo_site / "index.html", *demo_site.glob("devices/*.html"), *demo_site.glob("records/*.html")]
    assert len(pages) > 60
    for page in pages:
        node = expanded(linked_data(page))
        assert list(vocabulary_faults(node)) == [], page.name
        assert node["@type"] == [f"{SCHEMA_ORG}Dataset"]


def test_what_a_description_leads_to_is_published(demo_site: Path) -> None:
    base = linked_data(demo_site / "index.html")["url"]
    for page in [demo_site / "index.html", *demo_site.glob("devices/*.html"), *demo_site.glob("records/*.html")]:
        data = linked_data(page)
        addresses = [data["url"], *data.get("isBasedOn", ()), *(file["contentUrl"] for file in data["distribution"])]
        places = [address.removeprefix(base) or "index.html" for address in addresses]
        assert [place for place in places if not (demo_site / place).is_file()] == [], page.name


@pytest.mark.parametrize(
    ("data", "fault"),
    [
        ({"@type": "Dataset", "colour": "blue"}, "Dataset has no colour"),
        ({"@type": "Datasets"}, "no type Datasets"),
        (
            {"@type": "Dataset", "isAccessibleForFree": "yes"},
            "Dataset.isAccessibleForFree takes ['Boolean'], not 'yes'",
        ),
        ({"@type": "Dataset", "about": {"@type": "Product", "unitText": "g"}}, "Product has no unitText"),
        (
            {"@type": "Dataset", "distribution": {"@type": "Organization", "name": "x"}},
            "Dataset.distribution takes ['DataDownload'], not ['https://schema.org/Organization']",
        ),
    ],
)
def test_what_schema_org_does_not_have_is_found(data: dict[str, Any], fault: str) -> None:
    assert list(vocabulary_faults(expanded({"@context": "https://schema.org", **data}))) == [fault]
