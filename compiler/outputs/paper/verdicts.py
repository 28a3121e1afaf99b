"""What found values mean: pass, rework or reprint, and what to do."""

from __future__ import annotations

from collections.abc import Mapping

from .amounts import shown
from .types import Check, Cure, Deciding, Gauge, Outcome, Verdict


def verdict(check: Check, found: float, others: Mapping[str, float], sizes: Mapping[str, Check]) -> Verdict:
    """What a found value means.  `others` are all found values: a reading between edges is freed of holes
    that came out wider or narrower."""
    value = found
    for key, share in check.leans:
        if key in others and key in sizes:
            value -= share * (others[key] - sizes[key].value)
    if check.limits.low - 1e-9 <= value <= check.limits.high + 1e-9:
        freed = f" (as if the holes were right: {shown(value)})" if abs(value - found) > 0.005 else ""
        return Verdict(check.key, found, Outcome.PASS, "within what will do" + freed)
    advice = _rework(check, value)
    if advice:
        return Verdict(check.key, found, Outcome.REWORK, advice)
    return Verdict(check.key, found, Outcome.REPRINT, _reprint(check, value))


def _rework(check: Check, found: float) -> str:
    """How the part can be put right as it is; '' where it can't."""
    off, small = abs(found - check.value), found < check.limits.low
    match check.gauge:
        case Gauge.HOLE if small:
            return f"run a {shown(check.limits.drills[-1])} drill through, the part in a vice"
        case Gauge.POCKET if small:
            return f"file {shown(off / 2)} off either side"
        case Gauge.PEG if not small:
            return f"file {shown(off)} off ({shown(off / 2)} all round)"
        case Gauge.SIZE if not small:
            return f"file {shown(off)} off"
        case Gauge.DEPTH if small:
            return f"drill {shown(off)} deeper"
        case _:
            return ""


_TOO = {Gauge.HOLE: "wide", Gauge.POCKET: "wide", Gauge.DEPTH: "deep"}


def _reprint(check: Check, found: float) -> str:
    off, small = found - check.value, found < check.limits.low
    size = shown(abs(off))
    if check.gauge is Gauge.GAP:
        share = 100.0 * check.value / found if found > 0 else 100.0
        way = "short" if small else "long"
        return f"{size} too {way}: where all distances are, print at {share:.2f} %; else read this one again"
    way = _TOO.get(check.gauge, "small")
    if check.line is None:  # no line says it: it follows from the teeth as they came out
        return f"{size} too {way}"
    return f"{size} too {way}: {_cure(check, check.line, off)}"


def _cure(check: Check, line: Deciding, off: float) -> str:
    what = "depth" if check.gauge is Gauge.DEPTH else "size"
    if line.cure is Cure.INSTEAD:
        return f"instead of `{line.text}` give its {what}, {shown(check.value - off)}"
    if line.cure is Cure.CHANGED:
        return f"in `{line.text}`, write the {what} {shown(abs(off))} {'larger' if off < 0 else 'smaller'}"
    return f"write `made {shown(max(0.0, check.value - off))}` behind `{line.text}`"
