"""Which statement about a device lacks which evidence, and which session is the next best: one module per subject."""
