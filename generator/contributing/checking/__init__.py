"""Behind `inward check`: problems and findings of records with their places, and how they are handed on."""
