"""Hostile YAML, each beside the place and name of every problem that it must give, written before it was tried.

A text stands in testers/stranger.yaml unless a file is named. Source of every expectation: the rules of the record
guide, and the place counted by hand in the text; where a place follows from a length, the sum stands in the text.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

TESTER_FILE = "testers/stranger.yaml"
DEVICE_FILE = "devices/stranger.yaml"

TESTER = 'id: stranger\nversion: "1"\npseudonym: Stranger\n'
"""Three lines; the fourth, `disclosure`, is where a hostile value goes: its key takes 12 characters."""
DEVICE = """\
id: stranger
version: "1"
name: Stranger
maker: Nobody
kind: face_covering
home_built: true
breath_responsive: false
summary: None.
filter: {not_recorded: none}
price: {not_recorded: none}
air_path:
  inlets: [{where: all over, filtered: false}]
  outlets: []
  seals: none
"""
"""Fourteen lines; the fifteenth, `mass`, is where a hostile quantity goes: its key takes 6 characters."""


@dataclass(frozen=True)
class HostileText:
    """One hostile file of YAML."""

    name: str
    content: bytes
    expected: tuple[str, ...]
    """`line:column slug` of every problem; none where the input is odd but allowed."""
    file: str = TESTER_FILE

    def put_into(self, folder: Path) -> tuple[str, ...]:
        """Write the file; return `file:line:column slug` of every problem."""
        (folder / self.file).write_bytes(self.content)
        return tuple(f"{self.file}:{each}" for each in self.expected)


def _whole(name: str, content: str | bytes, *expected: str) -> HostileText:
    return HostileText(name, content if isinstance(content, bytes) else content.encode(), expected)


def _value(name: str, value: str | bytes, *expected: str) -> HostileText:
    raw = value if isinstance(value, bytes) else value.encode()
    return HostileText(name, TESTER.encode() + b"disclosure: " + raw + b"\n", expected)


def _mass(name: str, value: str, *expected: str) -> HostileText:
    return HostileText(name, f"{DEVICE}mass: {value}\n".encode(), expected, DEVICE_FILE)


def _id(name: str, written: str, *expected: str) -> HostileText:
    return _whole(name, TESTER.replace("stranger", written, 1) + "disclosure: none\n", *expected)


_NONE = "disclosure: none\n"
_ALIASES = "a: &a [x, x]\n" + "".join(
    f"{this}: &{this} [{', '.join([f'*{last}'] * 9)}]\n" for last, this in zip("abcdefgh", "bcdefghi", strict=True)
)
_MERGES = "a: &a {k: 1}\n" + "".join(
    f"{this}: &{this} {{<<: [{', '.join([f'*{last}'] * 9)}]}}\n"
    for last, this in zip("abcdefgh", "bcdefghi", strict=True)
)

FEATURES = (
    # The first anchor stands at 1:4; the first alias in the second line, behind `b: &b [`, which are 7 characters.
    _whole("a bomb of aliases", _ALIASES, "1:4 anchor-not-allowed", "2:8 alias-not-allowed"),
    # Behind `b: &b {<<: [` (12 characters).
    _whole("a bomb of merge keys", _MERGES, "1:4 anchor-not-allowed", "2:13 alias-not-allowed"),
    _value("an anchor", "&a text", "4:13 anchor-not-allowed"),
    _value("an alias of nothing", "*nothing", "4:13 alias-not-allowed"),
    _value("a list that holds itself", "&a [*a]", "4:13 anchor-not-allowed", "4:17 alias-not-allowed"),
    _value("an anchor of 100,000 characters", "&" + "a" * 100_000 + " text", "4:13 anchor-not-allowed"),
    _whole("60,000 anchors", "- &a 1\n" * 60_000, "1:3 anchor-not-allowed"),
    _whole("80,000 aliases", "- &a 1\n" + "- *a\n" * 80_000, "1:3 anchor-not-allowed", "2:3 alias-not-allowed"),
    _whole("a merge key", f"{TESTER}{_NONE}<<: {{id: other}}\n", "5:1 merge-key-not-allowed"),
    _value("a tag that would call a program", "!!python/object/apply:os.system [echo]", "4:13 tag-not-allowed"),
    _value("a tag that would import", "!!python/name:os.system ''", "4:13 tag-not-allowed"),
    _value("a binary tag", "!!binary aGVsbG8=", "4:13 tag-not-allowed"),
    _value("a local tag", "!include /etc/passwd", "4:13 tag-not-allowed"),
    _value("a verbatim tag", "!<tag:yaml.org,2002:str> none", "4:13 tag-not-allowed"),
    _value("a tag of 100,000 characters", "!" + "a" * 100_000 + " none", "4:13 tag-not-allowed"),
    _whole("a version directive", f"%YAML 1.1\n---\n{TESTER}{_NONE}", "1:1 directive-not-allowed"),
    _whole("a tag directive", f"%TAG !e! tag:e.example,2000:\n---\n{TESTER}{_NONE}", "1:1 directive-not-allowed"),
    _whole("an unknown directive", f"%HELLO x\n---\n{TESTER}{_NONE}", "1:1 directive-not-allowed"),
    _whole("a second document", f"{TESTER}{_NONE}---\n{TESTER}", "5:1 several-documents"),
    _whole("a hundred thousand documents", "---\na\n" * 80_000, "3:1 several-documents"),
    _whole("a document behind the end", f"{TESTER}{_NONE}...\n---\nid: other\n", "6:1 several-documents"),
    _whole("a key twice", f"{TESTER}{_NONE}id: other\n", "5:1 duplicate-key"),
    _whole("a key twice, once by escapes", f'{TESTER}{_NONE}"\\x69d": other\n', "5:1 duplicate-key"),
    _whole("a mapping as a key", f"{TESTER}{_NONE}? {{a: 1}}\n: 2\n", "5:3 key-not-text"),
    _whole("nothing as a key", f"{TESTER}{_NONE}~: 2\n", "5:1 key-not-text"),
)

CHARACTERS = (
    _value("a null byte", b"no\0ne", "4:15 character-not-allowed"),
    _value("a null by an escape", r'"no\0ne"', "4:13 character-not-allowed"),
    _whole("a null in a key by an escape", f'{TESTER}{_NONE}"a\\0b": 1\n', "5:1 character-not-allowed"),
    _value("a bell", b"no\x07ne", "4:15 character-not-allowed"),
    _value("a code that a terminal obeys", b"\x1b[31mnone", "4:13 character-not-allowed"),
    _value("a delete character", b"no\x7fne", "4:15 character-not-allowed"),
    _value("a control character of eight bits", "no\x9bne", "4:15 character-not-allowed"),
    _value("a vertical tab", b"no\x0bne", "4:15 character-not-allowed"),
    _value("a form feed by an escape", r'"no\fne"', "4:13 character-not-allowed"),
    _value("text turned round", "no \u202egnihton", "4:16 character-not-allowed"),
    _value("text turned round by an escape", r'"no \u202e gnihton"', "4:13 character-not-allowed"),
    _value("an isolate", "no \u2067none\u2069", "4:16 character-not-allowed"),
    _whole("text turned round in a comment", f"{TESTER}{_NONE}# \u202d x\n", "5:3 character-not-allowed"),
    _whole("text turned round in a key", f"{TESTER}{_NONE}a\u202bb: 1\n", "5:2 character-not-allowed"),
    _whole("a line end that only YAML sees", f"{TESTER}disclosure: a\x85b: 1\n", "4:14 character-not-allowed"),
    _whole("a line separator", f"{TESTER}disclosure: a\u2028{_NONE}", "4:14 character-not-allowed"),
    _whole("a paragraph separator", f"{TESTER}disclosure: a\u2029b\n", "4:14 character-not-allowed"),
    _value("a line separator by an escape", r'"a\Lb"', "4:13 character-not-allowed"),
    _value("a next-line character by an escape", r'"a\Nb"', "4:13 character-not-allowed"),
    _whole("two byte order marks", f"\ufeff\ufeff{TESTER}{_NONE}", "1:1 character-not-allowed"),
    _value("a byte order mark inside", "a\ufeffb", "4:14 character-not-allowed"),
    _value("invisible tag characters", "none\U000e0068\U000e0069", "4:17 character-not-allowed"),
    _value("an annotation", "none\ufff9x\ufffb", "4:17 character-not-allowed"),
    _value("what is no character", "none\uffff", "4:17 character-not-allowed"),
    _value("half a character by an escape", r'"\ud800"', "4:16 yaml-syntax"),
    _value("two halves by escapes", r'"\ud83d\ude00"', "4:16 yaml-syntax"),
    _value("a character beyond the last", r'"\U00110000"', "4:16 yaml-syntax"),
    _whole("UTF-16, little end first", (TESTER + _NONE).encode("utf-16"), "1:1 not-utf-8"),
    _whole("UTF-16, big end first", b"\xfe\xff" + (TESTER + _NONE).encode("utf-16-be"), "1:1 not-utf-8"),
    _whole("UTF-16 without a mark", (TESTER + _NONE).encode("utf-16-le"), "1:2 character-not-allowed"),
    _whole("UTF-32, little end first", (TESTER + _NONE).encode("utf-32"), "1:1 not-utf-8"),
    _whole("UTF-32, big end first", b"\0\0\xfe\xff" + (TESTER + _NONE).encode("utf-32-be"), "1:3 not-utf-8"),
    _value("a byte of an older encoding", b"gr\xfcn", "4:15 not-utf-8"),
    _value("a null in two bytes", b"no\xc0\x80ne", "4:15 not-utf-8"),
    _value("half a character in bytes", b"no\xed\xa0\x80ne", "4:15 not-utf-8"),
    _value("a character beyond the last in bytes", b"no\xf4\x90\x80\x80", "4:15 not-utf-8"),
    _whole("a character that is cut off", TESTER.encode() + b"disclosure: no\xe2\x82", "4:15 not-utf-8"),
    _whole(
        "line ends of three kinds", "id: stranger\r\nversion: '1'\rpseudonym: a\x00b\n", "3:13 character-not-allowed"
    ),
)

NUMBERS = (
    # `version: ` takes 9 characters.
    _whole("a number too large to hold", TESTER.replace('"1"', "1e999") + _NONE, "2:10 not-finite"),
    _whole("one too small to hold", TESTER.replace('"1"', "-1e999") + _NONE, "2:10 not-finite"),
    _whole("infinity", TESTER.replace('"1"', "-.INF") + _NONE, "2:10 not-finite"),
    _whole("no number", TESTER.replace('"1"', ".nan") + _NONE, "2:10 not-finite"),
    _whole("an integer of 19,000 digits", TESTER.replace('"1"', "9" * 19_000) + _NONE, "2:10 number-too-long"),
    _whole("a number of 19,000 digits", TESTER.replace('"1"', "9" * 18_990 + ".5") + _NONE, "2:10 not-finite"),
    _whole(
        "a hexadecimal of 19,000 digits", TESTER.replace('"1"', "0x" + "f" * 18_990) + _NONE, "2:10 number-too-long"
    ),
    _whole("a million digits of exponent", TESTER.replace('"1"', "1e" + "9" * 19_000) + _NONE, "2:10 not-finite"),
    _mass("a quantity too large to hold", "1e999 g", "15:7 not-a-quantity"),
    _mass("digits of another script", "٣ g", "15:7 not-a-quantity"),
    _mass("wide digits", "１２ g", "15:7 not-a-quantity"),
    _mass("a unit that looks like one", "12 ɡ", "15:7 unknown-unit"),
    _mass("a quantity of 5,000 digits", "1" * 5_000 + " g", "15:7 not-a-quantity"),
    _mass("a unit of 15,000 characters", "12 " + "m" * 15_000, "15:7 unknown-unit"),
    _mass("a unit of powers", "12 m**9**9**9**9", "15:7 unknown-unit"),
    _mass("a negative mass", "-12 g", "15:7 out-of-bounds"),
    _mass("a quantity in words", "nan g", "15:7 not-a-quantity"),
)

SIZES = (
    # The parser looks ahead for a colon behind the bracket, up to its own limit of a thousand levels.
    _whole("half a million open brackets", "[" * 500_000, "1:1001 too-deep"),
    _whole("half a million open braces", "{" * 500_000, "1:1001 too-deep"),
    _whole("a hundred lists in lists", "[" * 100 + "]" * 100, "1:21 too-deep"),
    # `{a: ` takes 4 characters, so that the twenty-first begins at 81.
    _whole("mappings in mappings", "{a: " * 120_000, "1:81 too-deep"),
    _whole("a list in a list in a list", "- " * 250_000, "1:41 too-deep"),
    _whole("keys of keys of keys", "? " * 250_000, "1:41 too-deep"),
    _whole("nine hundred levels of indentation", "".join(" " * n + "a:\n" for n in range(900)), "21:21 too-deep"),
    _whole("deep and wide", "[" * 900 + "1," * 240_000 + "]" * 900, "1:21 too-deep"),
    # The list itself is a value. The one too many is its 50,000th item, each of 2 characters behind one bracket; events
    # are counted up to twice as many, so that in a large file it is the 100,000th.
    _whole("a quarter of a million values", "[" + "1," * 250_000 + "]", "1:200000 too-many-values"),
    _whole("sixty thousand values", "[" + "1," * 60_000 + "]", "1:100000 too-many-values"),
    # The mapping too many is the 10,001st, each of 3 characters behind one bracket.
    _whole("twenty thousand mappings", "[" + "{}," * 20_000 + "]", "1:30002 too-many-values"),
    _whole(
        "forty thousand keys",
        TESTER + _NONE + "".join(f"k{n}: 1\n" for n in range(40_000)),
        *(f"{5 + n}:1 unknown-key" for n in range(50)),
        "55:1 more-problems",
    ),
    _whole(
        "forty thousand times the same key",
        TESTER + _NONE + "id: x\n" * 40_000,
        *(f"{5 + n}:1 duplicate-key" for n in range(50)),
        "55:1 more-problems",
    ),
    _value("a text of 20,001 characters", "x" * 20_001, "4:13 text-too-long"),
    _value("a text of half a million characters", "x" * 500_000, "4:13 text-too-long"),
    _value("the same in escapes", '"' + "\\x41" * 120_000 + '"', "4:13 text-too-long"),
    _whole("a key of half a million characters", f"{TESTER}{_NONE}? {'x' * 500_000}\n: 1\n", "5:3 key-too-long"),
    _whole("a key of 101 characters", f"{TESTER}{_NONE}{'x' * 101}: 1\n", "5:1 key-too-long"),
    _whole("one byte more than a file may have", "#" * (512 * 1024 + 1), "1:1 file-too-large"),
    _whole("fifty million bytes", b"\0" * 50_000_000, "1:1 file-too-large"),
    _whole("a quote that is never closed", f'{TESTER}disclosure: "{"x " * 200_000}', "4:13 yaml-syntax"),
    _whole("half a million colons", ":" * 500_000, "1:500000 yaml-syntax"),
    _whole("half a million percent signs", "%" * 500_000, "1:1 directive-not-allowed"),
    _value("a backtick", "`ls`", "4:13 yaml-syntax"),
    _whole("a tab for indentation", f"{TESTER}disclosure:\n\tx: 1\n", "5:1 yaml-syntax"),
    _whole("nothing", "", "1:1 empty-file"),
    _whole("a byte order mark and nothing", "\ufeff", "1:1 empty-file"),
    _whole("comments and nothing", "#\n" * 200_000, "1:1 empty-file"),
    _whole("a list in place of a record", "[1]", "1:1 not-a-mapping"),
    _whole("a null in place of a record", "--- ~\n", "1:5 not-a-mapping"),
    _whole("a line of half a million characters in a comment", f"{TESTER}{_NONE}#{'x' * 500_000}\n"),
    _value("ten thousand combining marks", "e" + "\u0301" * 10_000),
    _value("joiners that a script needs", "\u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645"),
)

IDS = (
    _id("a space that is not seen in an id", "strang\u200ber", "1:5 wrong-form", "1:5 id-not-file-name"),
    _id("a letter of another script in an id", "str\u0430nger", "1:5 wrong-form", "1:5 id-not-file-name"),
    _id("wide letters in an id", "ｓtranger", "1:5 wrong-form", "1:5 id-not-file-name"),
    _id("a soft hyphen in an id", "stran\u00adger", "1:5 wrong-form", "1:5 id-not-file-name"),
    _id("a path as an id", "../stranger", "1:5 wrong-form", "1:5 id-not-file-name"),
    _id("a line end behind an id", '"stranger\\n"', "1:5 wrong-form", "1:5 id-not-file-name"),
    _id("an id of 15,000 characters", "a-" * 7_500 + "b", "1:5 text-too-long", "1:5 id-not-file-name"),
    _whole(
        "a space that is not seen in a key",
        f"{TESTER}disclosure\u200b: none\n",
        "1:1 missing-key",
        "4:1 unknown-key",
    ),
)

HOSTILE_TEXTS = FEATURES + CHARACTERS + NUMBERS + SIZES + IDS
