"""Make the logs of the demo's salt chamber, invented counts of two channels: records/logs/quillback-*.csv.

One counter draws its air from inside, the other from the chamber, each count drawn from a Poisson law, as in
`demo_log_source`. The chamber's mist comes and goes; the counter outside is two seconds behind and reads a little less.
Run as `python -m tests.demo_chamber_source` to write them.
"""

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np

LOGS = Path(__file__).parent.parent / "records" / "logs"
COUNTED_CM3_PER_S = 2830 / 60  # both counters' counted flow of 2.83 L/min
MIST = 420.0  # invented mean concentration in the chamber [/cm3]
BEHIND_S, READS_MORE = 2, 1.035  # the lag of the channel outside, and how much more the one inside reads
PURGE_S, SIDE_BY_SIDE_S = 8, 40
EXERCISES = (
    # exercise, seconds, leak as a multiple of the session's
    ("normal-breathing", 60, 0.78),
    ("deep-breathing", 60, 0.90),
    ("head-side-to-side", 60, 1.0),
    ("head-up-and-down", 60, 1.05),
    ("talking", 60, 1.42),
    ("grimace", 15, 2.46),
    ("bending", 60, 1.35),
    ("normal-breathing-again", 60, 0.82),
)


@dataclass(frozen=True)
class ChamberLog:
    """What was done in one session, and what went wrong meanwhile."""

    file: str
    seed: int
    factor: float
    """The invented fit factor about which the exercises lie."""
    compared: bool = True
    """Whether both counters drew the chamber's air for a while."""
    slipped: bool = False
    """Whether the facepiece slipped for a moment while bending."""
    lost: range = range(0)
    """Seconds of the talking of which the recorder kept nothing."""

    def rows(self) -> list[tuple[str, str, int]]:
        """Lay out the session: what is sampled, in which exercise, and for how many seconds."""
        beside = [("side-by-side", "", SIDE_BY_SIDE_S)] if self.compared else []
        exercises = [
            row for name, seconds, _ in EXERCISES for row in (("purge", name, PURGE_S), ("in-mask", name, seconds))
        ]
        return [*beside, *exercises, ("purge", "", PURGE_S), *beside]

    def content(self) -> bytes:
        """Return the log's bytes."""
        random = np.random.RandomState(self.seed)
        seconds = sum(each for _, _, each in self.rows()) + BEHIND_S
        wander = [0.0]
        for step in random.normal(0.0, 0.012, seconds):
            wander.append(0.93 * wander[-1] + step)
        mist = [MIST * math.exp(each) for each in wander]
        leaks = {name: times / self.factor for name, _, times in EXERCISES}
        lines = ["time_s,inside_per_cm3,outside_per_cm3,exercise,sampling"]
        time = 0
        for sampling, exercise, duration in self.rows():
            for step in range(duration):
                now, earlier = mist[time + BEHIND_S], mist[time]
                breath = math.exp(0.5 * math.sin(2 * math.pi * step / 4))
                share = {"side-by-side": 1.0, "purge": 0.05 if step < PURGE_S // 2 else 0.01}.get(
                    sampling, leaks.get(exercise, 0.0) * breath
                )
                if self.slipped and exercise == "bending" and sampling == "in-mask" and 21 <= step < 24:
                    share = (0.031, 0.058, 0.036)[step - 21]
                inside = random.poisson(now * READS_MORE * share * COUNTED_CM3_PER_S) / COUNTED_CM3_PER_S
                outside = random.poisson(earlier * COUNTED_CM3_PER_S) / COUNTED_CM3_PER_S
                if not (exercise == "talking" and sampling == "in-mask" and step in self.lost):
                    lines.append(f"{time},{inside:.3f},{outside:.3f},{exercise},{sampling}")
                time += 1
        return ("\n".join(lines) + "\n").encode("ascii")


CHAMBER_LOGS = (
    ChamberLog("quillback-half-2025-11-a-s1.csv", seed=20251101, factor=170),
    ChamberLog("quillback-half-2025-11-a-s3.csv", seed=20251102, factor=82, slipped=True),
    ChamberLog("quillback-half-2025-11-b-s4.csv", seed=20251108, factor=400, compared=False, lost=range(30, 34)),
)

if __name__ == "__main__":
    for log in CHAMBER_LOGS:
        (LOGS / log.file).write_bytes(log.content())
