"""One module per topic. A module placed here is found by generator.scoring.registry; nothing else lists it."""
