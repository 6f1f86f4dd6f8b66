"""Taking in a log: delimited text as some logger wrote it, to a log on record and the lines that refer to it.

    bytes -> raw_text -> layout -> readings -> cut (by marks or times) -> written_log -> record

What cannot be told from the file alone is never guessed: each module raises `Unclear` with the option that decides it.
"""
