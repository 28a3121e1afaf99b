"""Figures that several kinds report: of threads, and of pockets named for a screw, in the order read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..model.types import Mouth

if TYPE_CHECKING:
    from ..kinds.thread.form import ThreadForm

Figures = tuple[tuple[str, float], ...]


def thread_figures(forms: Sequence[ThreadForm]) -> Figures:
    """What threads measure, mm."""
    found: list[tuple[str, float]] = []
    for form in forms:
        kind = "thread" if form.outside else "inside thread"
        found += [(f"{kind} across", form.across), (f"{kind} core", form.core), (f"{kind} pitch", form.pitch)]
        if form.root_radius > 0:
            found.append((f"{kind} ground, in its rounded root", form.ground))
        found += [(f"{kind} lead", form.lead)] if form.starts > 1 else []
    return tuple(found)


def pocket_figures(mouth: Mouth | None) -> Figures:
    """What a pocket named for a screw measures, mm, and whose head, nut or washer it takes."""
    if mouth is None or not mouth.called:
        return ()
    found = [(f"{mouth.called} ({mouth.standard}) across", mouth.wide.value)]
    found += [(f"{mouth.called} deep", mouth.deep.value)] if mouth.deep is not None else []
    return tuple(found)
