"""A plan is made of what bears on its device, and that is all that is scored for it."""

from __future__ import annotations

import pytest

from generator.contributing.planning import planned
from generator.model.catalogue import Catalogue
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import published
from generator.scoring.planning.plan import plan_of
from generator.scoring.planning.reviewed import Reviewed


@pytest.mark.parametrize("device", ["tansy-fold", "gorseback-half", "sallowby-pleat", "quillback-half"])
def test_it_is_what_the_whole_catalogue_gives(device: str, demo: Catalogue, scored: CatalogueResult) -> None:
    catalogue = published(demo)
    assert planned(device, catalogue) == plan_of(Reviewed(catalogue.devices[device], catalogue, scored), None)
