"""A contributor's and a reviewer's ways in, above build: so far, verifying a published site."""
