"""Drafts: records with blanks and comments, written from what is known before a test."""
