"""Model to results: pure functions without input, output, clocks or unseeded randomness."""
