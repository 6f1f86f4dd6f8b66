"""Every problem that loading can tell of, by the slug in brackets: what it means and what to do.

The record guide prints this table. A test holds it to the slugs that the code raises.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Explanation:
    """What a problem means, and what to do about it."""

    meaning: str
    remedy: str


_E = Explanation

SLUGS_BY_GROUP: Mapping[str, Mapping[str, Explanation]] = {
    "Files and folders": {
        "unexpected-file": _E(
            "A file or folder that is not part of the records, or has another ending than its folder's.",
            "Rename it, remove it, or keep it outside the records folder. A file left unread could hide an attempt.",
        ),
        "outside-records": _E(
            "A link, a second name of one file (hard link), a pipe, a device, or a file in place of a folder: nothing "
            "outside the records folder is read.",
            "Put the file itself, or a copy of it, into its folder.",
        ),
        "unreadable-file": _E("The system does not let a file or folder be read.", "Look at its permissions."),
        "changed-while-read": _E(
            "A file changed or went away while it was read, so that what was checked is not what stands there.",
            "Check again when nothing writes to the records.",
        ),
        "file-name": _E(
            "A file name that not every system can store, or that no id can have.",
            "Use lower-case letters a to z, digits and single hyphens; never `con`, `nul` and the like.",
        ),
        "file-too-large": _E("The file is larger than a record or log can be.", "Split it; long series go to a log."),
        "publication-missing": _E("There is no publication.yaml.", "Add it: it says who publishes the catalogue."),
        "id-not-file-name": _E("The `id` is not the file's name without its ending.", "Change one of the two."),
    },
    "YAML": {
        "yaml-syntax": _E(
            "The file is not well-formed YAML. The line is where the parser gave up; the cause is there or just above.",
            "Indent with spaces, put a space after each colon, quotes round text that holds `: ` or ` #`.",
        ),
        "not-utf-8": _E("The file is not encoded as UTF-8.", "Save it as UTF-8."),
        "character-not-allowed": _E(
            "A control character, a line end that only some programs see, a mark that turns the direction of the text, "
            "or another one that hides what is there; also as an escape in quotes.",
            "Remove it; your editor can show it.",
        ),
        "empty-file": _E("There is nothing in the file but comments.", "Fill it, or remove it."),
        "several-documents": _E("A line `---` begins a second document.", "Use one file for each record."),
        "duplicate-key": _E("The same key stands twice in one mapping.", "Remove one. Only the first was looked at."),
        "key-too-long": _E("A key is longer than any key can be.", "Look for a missing quote or colon."),
        "key-not-text": _E("A key is a number, a list or the like.", "Correct the key."),
        "alias-not-allowed": _E("Text that begins with `*` is an alias in YAML.", "Write the value out, or quote it."),
        "anchor-not-allowed": _E("Text that begins with `&` is an anchor in YAML.", "Remove it, or quote the text."),
        "tag-not-allowed": _E("Text that begins with `!` is a tag in YAML.", "Remove it, or quote the text."),
        "merge-key-not-allowed": _E("The key `<<` is a merge key in YAML.", "Write the keys out."),
        "directive-not-allowed": _E("A line that begins with `%` is a directive in YAML.", "Remove it."),
        "number-leading-zero": _E(
            "A number such as `010`, which programs read differently.", "Remove the zeros, or quote a serial number."
        ),
        "number-too-long": _E("A whole number that not every program keeps exactly.", "Quote it if it is a name."),
        "not-finite": _E("`.inf`, `.nan`, or a number too large to hold.", "Write what was read, or `not_recorded`."),
        "too-deep": _E("More mappings and lists inside one another than any record needs.", "Flatten it."),
        "too-many-values": _E("More values than any record needs.", "Move long series of readings to a log."),
        "more-problems": _E(
            "Only the first problems of a file are told.", "Mend them and check again; one change often mends all."
        ),
    },
    "Keys and values": {
        "missing-key": _E("A key that is needed is not there.", "Add it. Missing is never 0: use `not_recorded`."),
        "left-blank": _E(
            "Nothing stands behind a key, as in a draft that is not filled in yet. Missing is never left blank.",
            "Fill in the blank. Where the guide says so write `{not_recorded: <the reason>}`; a key that is not needed "
            "can be taken out with its line.",
        ),
        "unknown-key": _E(
            "A key that means nothing here, often misspelt or indented wrongly.", "Correct or remove it."
        ),
        "not-a-mapping": _E("Keys with values were expected.", "Write `key: value` lines below it."),
        "not-a-list": _E("A list was expected, even if it has one item.", "Begin each item with `- `."),
        "not-text": _E("Text was expected.", "Put quotes round a number that is meant as text, such as a version."),
        "not-a-whole-number": _E("A whole number was expected.", "Write digits only, without quotes."),
        "not-a-number": _E("A number was expected.", "Write it with a decimal point, without quotes or unit."),
        "not-true-or-false": _E("`true` or `false` was expected.", "Write one of them; `yes` and `no` are text."),
        "not-a-date": _E("A day was expected.", "Write it as year-month-day, such as 2025-03-14."),
        "not-one-of": _E("The value is not among those that are known.", "Choose one of those listed."),
        "wrong-form": _E("The text does not have the form that is needed.", "Write it in the form that is named."),
        "text-too-short": _E("Text is missing.", "Write what is asked for."),
        "text-too-long": _E("The text is longer than there is room for.", "Shorten it, or use `notes`."),
        "too-few-items": _E("A list has fewer items than are needed.", "Add what is missing."),
        "too-many-items": _E("A list has more items than are allowed.", "Split it, or use a log."),
        "too-small": _E("A number is below its bound.", "Correct it."),
        "too-large": _E("A number is above its bound.", "Correct it."),
    },
    "Quantities": {
        "not-a-quantity": _E(
            "A number with its unit was expected.", "Write it as in `17.2 L/min`, with a decimal point, not a comma."
        ),
        "unit-missing": _E("A number stands without a unit.", "Add the unit that was read; it is never guessed."),
        "unknown-unit": _E("The unit is not in the table below.", "Use a spelling of the table."),
        "wrong-unit": _E("The unit measures something else.", "Use a unit of the dimension that is named."),
        "out-of-bounds": _E("The quantity cannot be right.", "Correct the number or its unit."),
    },
    "What belongs together in one record": {
        "power-missing": _E("A powered device without `power`.", "Add `power`, or correct `kind`."),
        "power-not-expected": _E("`power` for a device without a blower.", "Remove it, or correct `kind`."),
        "breath-responsive-without-blower": _E(
            "Only a blower can follow the breath.", "Set `breath_responsive: false`, or correct `kind`."
        ),
        "changes-and-state": _E(
            "A modified device without `changes`, or `changes`, `based_on` or `costs` for one as supplied.",
            "Make them agree.",
        ),
        "dates-out-of-order": _E("Days are not in the order in which things happen.", "Correct the wrong one."),
        "reference-conditions": _E(
            "A thermal mass or variable-area flow meter needs `reference_conditions`; other instruments have none.",
            "Add or remove them.",
        ),
        "counter-part": _E("A particle counter needs `counter`; a flow meter has none.", "Add or remove it."),
        "no-test": _E("The record holds neither `fit` nor `flow`.", "Add what was measured."),
        "no-readings": _E(
            "A completed session without readings.",
            "Add them, or set `outcome` to `aborted` or `voided` with a reason.",
        ),
        "log-and-exercises": _E("A session has both.", "Keep the log; exercises are cut from it."),
        "overall-beside-readings": _E(
            "A session has an overall factor as given beside a log, exercises or a second one.",
            "Keep what says most: the log, else the exercises, else the overall factor.",
        ),
        "adjusted-not-voided": _E(
            "Something was adjusted after the first exercise had begun, and the session is not voided.",
            "Set `outcome: voided` with a reason, and begin a new session.",
        ),
        "one-reading-each": _E(
            "An exercise or a zero check has no reading, or more than one.",
            "Keep one of `in_mask`, `in_mask_count`, `fit_factor`, `fit_factor_at_least`; of a zero check, "
            "`concentration` or `count`.",
        ),
        "reason-missing": _E("An aborted or voided session without a reason.", "Add `reason` in plain words."),
        "one-quantity-each": _E("A claim's `means` names no quantity, or more than one.", "Keep one of them."),
        "device-twice": _E("A comparison names a device twice.", "Remove one of the two."),
        "name-already-used": _E("Two things of one record have the same name.", "Give one another name."),
    },
    "What belongs together across records": {
        "unknown-reference": _E(
            "Nothing on record that could be meant has this id or name.", "Add the record, or correct the id."
        ),
        "id-already-used": _E(
            "A published criterion or protocol, or a comparison made without asking, has this id.",
            "Give your own another id.",
        ),
        "aerosol-not-named": _E(
            "A session's protocol is done in a sprayed aerosol, and the record's particles are those of the room.",
            "Add `aerosol` with what was sprayed, or name the protocol that was used.",
        ),
        "letter-already-used": _E("Two wearers have one catalogue letter.", "Give one of them a free letter."),
        "consent-after-test": _E(
            "The wearer's consent is younger than the test.",
            "Correct the wrong day. Without consent the session must not be on record.",
        ),
        "rule-after-test": _E(
            "The rule that chooses sessions is younger than the test, when the results could be known.",
            "Correct the day, or leave `session_rule` out; then every completed session counts.",
        ),
        "exercise-not-of-protocol": _E("The protocol has no such exercise.", "Correct it, or name the right protocol."),
        "exercises-out-of-order": _E(
            "Exercises stand in another order than in the protocol, or twice.",
            "Put them in order, or name the right protocol.",
        ),
        "exercises-missing": _E(
            "A completed session lacks exercises of its protocol.",
            "Add them, say why in `partial` where only a part was to be done, or set `outcome: aborted` with a reason.",
        ),
        "partial-with-all-exercises": _E(
            "A session is called partial, and every exercise of its protocol was done.", "Remove `partial`."
        ),
        "ambient-missing": _E(
            "An ambient sample that the protocol takes is not there.", "Add it, or set `outcome: voided` with a reason."
        ),
        "ambient-not-expected": _E(
            "An ambient sample where the protocol takes none.", "Move it to where the protocol takes it."
        ),
        "fit-factor-expected": _E(
            "The protocol takes no ambient samples, so that a reading inside cannot be scored.",
            "Give `fit_factor`, or name the right protocol.",
        ),
        "blower-missing": _E("A session with a powered device does not say how the blower stood.", "Add `blower`."),
        "blower-not-expected": _E("`blower` for a device without one.", "Remove it."),
        "unknown-setting": _E("The device has no such setting.", "Use one of `power.settings` of the device."),
        "flow-not-expected": _E(
            "Flow runs of a device without a blower, or a claim of its air flow or its time on one charge.",
            "Remove `flow` or the claim's `means`, or correct `device`.",
        ),
        "instrument-missing": _E("The record does not say what was measured with.", "Add the instrument's id."),
        "wrong-instrument": _E("The instrument measures something else.", "Name the one that was used."),
        "meter-in-path": _E(
            "What the meter did to the flow is told twice, or not wholly.",
            "Give its pressure drop, with a blower curve if there is one, or the null method; else leave `meter` out.",
        ),
        "points-order": _E("Points of a curve are not in order of their flow.", "Put them in order, each flow once."),
        "curve-of-another-state": _E(
            "A run is to be corrected by a blower curve of another setting or battery.", "Name that of the same state."
        ),
        "alarms-order": _E("Alarms of a run-down are not in order of time.", "Put them in order."),
        "more-than-read": _E("More words understood than were read.", "Correct a number."),
        "upper-limit-not-guarded": _E(
            "A criterion of at most a limit with the plain rule.", "Write `decision_rule: guarded`."
        ),
        "count-time-missing": _E("A count without the time it was taken in.", "Add `in_mask_time`."),
        "counted-flow-unknown": _E(
            "A count by an instrument whose counted flow is not recorded.", "Add `counter.counted_flow` there."
        ),
    },
    "Logs": {
        "log-missing": _E("There is no such log.", "Add it to logs/, or correct `file`."),
        "log-changed": _E(
            "The log is not the one whose SHA-256 the record gives.",
            "Put the log back as it was taken; give a new SHA-256 only if you know why it changed.",
        ),
        "log-shared": _E("Two sessions or parts refer to one log.", "Cut it into one for each."),
        "log-unused": _E("No record refers to the log.", "Refer to it, or remove it."),
        "series-columns": _E(
            "A log of flow, pressure, voltage or current has no column, not the one that is needed, or one for two.",
            "Name the heading and the unit of what was logged.",
        ),
        "alarm-time": _E(
            "An alarm of a run-down lies before or after the times of its log.", "Correct the time or its unit."
        ),
        "log-heading-missing": _E("A heading that the record names is not in the first line.", "Correct it there."),
        "log-empty": _E("The log has headings and no readings.", "Add the readings."),
        "log-row": _E("A line has more or fewer values than there are headings.", "Correct the line."),
        "log-number": _E(
            "A number is not a plain one, or is not one that can have been read, such as a flow below 0.",
            "Use a decimal point; look at the unit.",
        ),
        "log-too-long": _E(
            "A log has more lines than any test takes.", "Keep the part that belongs to the session or part."
        ),
        "log-time-order": _E("The time does not go up from line to line.", "Put the lines in order."),
        "log-sampling": _E(
            "`sampling` is not `ambient`, `in-mask` or `purge`, nor, with a second channel, `side-by-side`.",
            "Write one of them; name the second channel in `columns.outside`.",
        ),
        "log-second-channel": _E(
            "The protocol takes the ambient concentration during each exercise, and the log has no second channel.",
            "Name its heading in `columns.outside`, or name the right protocol.",
        ),
        "marks-or-timetable": _E(
            "A log has marks and a timetable, or neither, or only one of the two columns of marks.",
            "Name the columns `exercise` and `sampling`, or give a timetable.",
        ),
        "timetable-exercise": _E("An `in-mask` entry of a timetable has no exercise.", "Add its id."),
        "timetable-order": _E(
            "Entries of a timetable overlap, are not in order, or end before they start.", "Correct their times."
        ),
        "log-exercise": _E(
            "An exercise is not of the session's protocol, or in another log no few plain words.",
            "Write its id as in the protocol, or what was done.",
        ),
        "log-more-problems": _E(
            "Only the first problems of a log are told.", "Mend them and check again; one change often mends all."
        ),
    },
    "Pictures": {
        "picture-missing": _E("There is no such picture.", "Add it to pictures/, or correct `file`."),
        "picture-changed": _E(
            "The picture is not the one whose SHA-256 the record gives.",
            "Put the picture back as it was; give a new SHA-256 only if you know why it changed.",
        ),
        "picture-unused": _E("No record refers to the picture.", "Refer to it, or remove it."),
        "picture-kind": _E(
            "The file is not a PNG or JPEG picture, or is not the one of them that its ending says.",
            "Save it as PNG or JPEG, and name it by what it is.",
        ),
        "picture-broken": _E(
            "The picture ends too early, is damaged, or is followed by something else.",
            "Open it in an image program and save it anew.",
        ),
        "picture-too-large": _E("The picture has more pixels than a camera's.", "Save it smaller."),
        "picture-animated": _E("The file holds several pictures.", "Save one still picture."),
    },
}

SLUGS: Mapping[str, Explanation] = {
    slug: explanation for group in SLUGS_BY_GROUP.values() for slug, explanation in group.items()
}
