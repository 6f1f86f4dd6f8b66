"""One module per topic. A module placed here is found by generator.presenting.registry; nothing else lists it."""
