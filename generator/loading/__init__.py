"""Records and reference data: from files to checked models, or to problems with file, line and column."""

from generator.loading.folder import Loaded, load_catalogue, load_found, read_records
from generator.loading.reference import Reference, load_reference

__all__ = ["Loaded", "Reference", "load_catalogue", "load_found", "load_reference", "read_records"]
