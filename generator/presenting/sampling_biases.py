"""What a sample inside the mask cannot show: errors that no interval of a fit factor covers, with their sources."""

from __future__ import annotations

from generator.model.reference import Source, SourceStatus
from generator.presenting.views import Definition, Fact, Link
from generator.presenting.wording import source_text

ANCHOR = "inside-the-mask"
LINK = Link("What a sample inside the mask cannot show", f"methods/index.html#{ANCHOR}")
LEAD = (
    "A counter sees the air that reaches its probe, and of that air the particles that reach its optics. Each error "
    "below makes the fit factor come out too high, by up to the share named. None of them is in any interval of this "
    "catalogue, and no figure here was corrected for one. The three sizes stand in one draft; the measurements behind "
    "them were not seen."
)
_DRAFT = Source(
    document="NIOSH, Performance Evaluation of DM and DFM Filter Respirators",
    edition="working draft of 15 September 1992",
    clause="printed page 56",
    status=SourceStatus.SEEN,
)
_REASONING = Source(
    document="This catalogue",
    edition="own reasoning",
    clause="no measurement",
    status=SourceStatus.OWN,
)


def _bias(identity: str, heading: str, text: str, size: str, source: Source) -> Definition:
    return Definition(identity, heading, text, (Fact("By how much", size, note=source_text(source)),))


BIASES = (
    _bias(
        "bias-probe-depth",
        "Where the probe sits",
        "Air that leaks in runs along the face as a stream and mixes late. A probe flush with the facepiece, away from "
        "nose and mouth, can miss the stream that the wearer breathes in. Each record says where its probe sat, or "
        "that this is not recorded.",
        "up to 100 % too high without a probe that reaches deep",
        _DRAFT,
    ),
    _bias(
        "bias-lung-retention",
        "What stays in the lungs",
        "The wearer breathes out fewer particles than came in, since some stay in the airways. The sample is taken of "
        "both breaths, so that it holds fewer than the air breathed in.",
        "up to 25 % too high without a correction",
        _DRAFT,
    ),
    _bias(
        "bias-wall-losses",
        "What stays on the walls of the sampler",
        "Particles settle in whatever the sample is drawn through. What they leave there is not counted.",
        "300 % to 500 % too high without a correction",
        _DRAFT,
    ),
    _bias(
        "bias-deposition",
        "What stays in the leak, the mask and the tube",
        "Particles settle on hair and skin in a narrow leak, on the damp inside of the mask and in the sampling tube, "
        "the large ones and the smallest ones most. Where the tube from outside is as long and as wide as the one from "
        "inside, both lose alike, and the ratio stays.",
        "not known",
        _REASONING,
    ),
)
