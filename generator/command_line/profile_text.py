"""What took the time of a publish, as text."""

from __future__ import annotations

from generator.build.timings import Timings, memory_mib
from generator.command_line.counting import counted


def profile_text(timings: Timings) -> str:
    """Return a table of the stages, and of the processor time of all jobs together."""
    whole, jobs = sum(timings.stages.values()), sum(timings.seconds.values())
    lines = [f"{'stage':<32} {'seconds':>9} {'share':>7}"]
    lines += [_line(name, seconds, whole) for name, seconds in timings.stages.items()]
    lines += [_line("all", whole, whole)]
    if timings.seconds:
        lines += ["", f"{'jobs, in all processes':<32} {'CPU s':>9} {'share':>7}"]
        lines += [
            _line(name, seconds, jobs) for name, seconds in sorted(timings.seconds.items(), key=lambda each: -each[1])
        ]
    for kind in sorted({*timings.made, *timings.taken}):
        made, taken = timings.made[kind], timings.taken[kind]
        lines.append(f"{counted(made + taken, 'job')} for {kind}: {made} done, {taken} kept from before")
    if timings.peak_mib:
        lines.append(f"Most memory of a process that does jobs alone: {timings.peak_mib:.0f} MiB")
    lines.append(f"Most memory of the process that holds the catalogue: {memory_mib():.0f} MiB")
    return "\n".join(lines)


def _line(name: str, seconds: float, whole: float) -> str:
    return f"{name:<32} {seconds:>9.2f} {seconds / whole if whole else 0:>7.1%}"
