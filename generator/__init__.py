"""Inward: a published catalogue from structured test records of breathing protection."""

__version__ = "0.1.0"
