"""Templates, styles and fonts; data beside the generator."""
