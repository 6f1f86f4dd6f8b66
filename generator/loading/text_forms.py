"""The text patterns of the models in words, for messages, the record guide and drafts."""

from __future__ import annotations

from collections.abc import Mapping

FORMS: Mapping[str, str] = {
    r"^[a-z0-9]+(-[a-z0-9]+)*$": "lower-case letters, digits and single hyphens, such as `north-hood-2`",
    r"^[a-z0-9]+([_-][a-z0-9]+)*$": "lower-case letters and digits with single hyphens or underscores, such as `first`",
    r"^[0-9]+(\.[0-9]+)*$": "a version such as '1' or '1.2'",
    r"^[0-9a-f]{64}$": "a SHA-256 of 64 hexadecimal digits in lower case",
    r"^[0-9]{1,6}(\.[0-9]{2})? [A-Z]{3}$": "an amount and a currency code, such as `129.00 EUR`",
    r"^(bought|lent|given)$": "`bought`, `lent` or `given`",
    r"^logs/[a-z0-9]+([-_][a-z0-9]+)*\.csv$": "a file in logs/, such as `logs/north-hood-2.csv`",
    r"^pictures/[a-z0-9]+([-_][a-z0-9]+)*\.(png|jpg|jpeg)$": "a file in pictures/, such as `pictures/north-hood-2.jpg`",
    r"""^[^@\s<>"']+@[^@\s<>"']+$""": "an e-mail address",
    r"^https://[a-z0-9.-]+(/[A-Za-z0-9._~-]+)*/$": "an address such as `https://reviews.example/catalogue/`",
    r"^[A-Z]{1,2}$": "one or two capital letters",
    r"^(1|L/min|Pa|dB\(A\))$": "`1`, `L/min`, `Pa` or `dB(A)`, in quotes",
    r"^[a-z_.]+:[a-z_]+$": "module:function",
    r"^[a-z_]+\.[a-z0-9_-]+\.[a-z0-9_-]+$": "a figure's key, such as `fit.first.overall`",
}
"""The text patterns of the models in words; a test holds the table to the models."""
