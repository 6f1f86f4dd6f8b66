"""Characters: which may stand in a file of records, and how text from a record is shown in a message.

Not allowed are those that hide what is there from a reader's eye: control characters, line ends that only some programs
see, marks that turn the direction of the text round them, and characters that nothing is shown for. Joiners and marks
that a script needs to be written rightly are allowed; ids and keys are plain ASCII anyway.
"""

from __future__ import annotations

import codecs
import re
import unicodedata

from generator.errors import Problem

_NOT_ALLOWED = (
    "\0-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f"  # control characters, NEL among them
    "\u2028\u2029"  # line and paragraph separators
    "\u202a-\u202e\u2066-\u2069"  # overrides, embeddings and isolates of the direction of text
    "\u206a-\u206f\ufff9-\ufffb"  # deprecated format characters, annotations
    "\ufeff"  # a byte order mark that does not begin the file
    "\ufffe\uffff"  # not characters
    "\ud800-\udfff"  # halves of characters
    "\U000e0000-\U000e007f"  # tags, which nothing is shown for
)
NOT_ALLOWED = re.compile(f"[{_NOT_ALLOWED}]")
_PLAIN_BYTES = bytes(each for each in range(128) if not NOT_ALLOWED.match(chr(each)))

_LINE_END = re.compile(r"\r\n|\r|\n")
_LONGEST_SHOWN = 60


def unusable_text(content: bytes, file: str, path: str) -> Problem | None:
    """Return the first place where bytes are not the text that a record may hold, or None."""
    if not content.translate(None, _PLAIN_BYTES):
        # Most files are plain ASCII; this is told fifty times as fast as by searching.
        return None
    try:
        text = content.decode()
    except UnicodeDecodeError as error:
        byte = f"the byte 0x{content[error.start]:02x}"
        hint = ", with which UTF-16 begins" if content[:2] in (b"\xff\xfe", b"\xfe\xff") else ""
        where = _position_after(content[: error.start].decode())
        remedy = "Save the file as UTF-8 in your editor"
        return Problem(file, *where, path, "not-utf-8", f"{byte}{hint}", "text encoded as UTF-8", remedy)
    match = NOT_ALLOWED.search(text)
    if match is None:
        return None
    where = _position_after(text[: match.start()])
    return Problem(file, *where, path, *character_not_allowed(match[0]))


def character_not_allowed(character: str) -> tuple[str, str, str, str]:
    """Return slug, found, expected and remedy for a character that a record must not hold."""
    kind = "control character" if unicodedata.category(character) == "Cc" else "character"
    expected = "text in which nothing is hidden"
    return "character-not-allowed", f"the {kind} {named(character)}", expected, "Remove the character"


def named(character: str) -> str:
    """Return a character's number and name, such as `U+200B ZERO WIDTH SPACE`."""
    return f"U+{ord(character):04X} {unicodedata.name(character, '')}".strip()


def not_ascii(text: str) -> str:
    """Name the first character of a text that only looks like plain ASCII, or return nothing."""
    for place, character in enumerate(text, start=1):
        if not character.isascii():
            return f" (character {place} is {named(character)})"
    return ""


def lines_of(content: bytes) -> list[str]:
    """Return the lines of a file as problems count them; bytes that are no text become U+FFFD."""
    return _LINE_END.split(content.removeprefix(codecs.BOM_UTF8).decode(errors="replace"))


def shortened(text: str, longest: int = _LONGEST_SHOWN) -> str:
    """Return a text from a record as it can stand in a message: on one line, not too long, nothing hidden in it."""
    if len(text) <= longest and text.isidentifier():
        return text
    # A little more than is shown is enough to tell whether all of it is.
    one_line = " ".join(text[: 4 * longest].split())
    whole = len(one_line) <= longest and len(text) <= 4 * longest
    shown = one_line if whole else f"{one_line[: longest - 3]}..."
    return "".join(each if each.isprintable() else f"U+{ord(each):04X}" for each in shown)


def _position_after(text_before: str) -> tuple[int, int]:
    line, start = 1, 0
    for end in _LINE_END.finditer(text_before):
        line, start = line + 1, end.end()
    return line, len(text_before) - start + 1
