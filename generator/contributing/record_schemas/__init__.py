"""JSON Schemas of the records as they are written, for editors: made from the models that the loader checks with."""
