"""What a change does to published results: `inward impact`."""
