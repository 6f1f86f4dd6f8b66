"""What a checked record and a result are: frozen, strict models without input or output."""
