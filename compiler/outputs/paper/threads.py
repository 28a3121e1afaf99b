"""What threads are called on a drawing, and how they are measured on the printed part."""

from __future__ import annotations

from ...kinds.thread.form import ThreadForm, ThreadName
from ...model.types import Said
from .amounts import wanted
from .measuring import changed, plain
from .types import Check, Gauge


def designation(form: ThreadForm, name: ThreadName | None) -> str:
    """How a thread is called on a drawing (ISO 6410): `M8 x 1`, or its size across and pitch."""
    if name is not None:
        play = f", {name.clear:g} clear" if name.clear is not None else ""
        return " \u00d7 ".join([name.screw, *([name.pitch] if name.pitch else [])]) + play
    hand = " LH" if form.left else ""
    return f"\u00d8{form.across:.4g} \u00d7 {form.pitch:.4g} thread{hand}"


def figures(form: ThreadForm, name: ThreadName | None) -> str:
    """What a thread measures, behind its line; '' where its name says that."""
    if name is not None:
        return f", \u00d8{form.across:.4g}" if name.clear is not None else ""
    starts = f", {form.starts} starts" if form.starts > 1 else ""
    return f", \u00d8{form.across:.4g} \u00d7 {form.pitch:.4g}, core \u00d8{form.core:.4g}{starts}"


def thread_check(name: str, where: str, form: ThreadForm, said: Said) -> Check:
    """How a thread is measured: over the crests outside, between them inside.  `where` on its body."""
    key, line = f"{name} thread{where}", changed(said)
    if form.outside:
        return plain(key, Gauge.PEG, "outer jaws over the crests", wanted(form.across), line, mates=True)
    how = "inner jaws between the crests, or try it on"
    return plain(key, Gauge.POCKET, how, wanted(form.core), line, mates=True)
