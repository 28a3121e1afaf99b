"""Threads to test with, and rods and rings that carry them."""

from __future__ import annotations

import numpy as np
from makegood.kinds.thread.form import ThreadForm, metric_form
from makegood.kinds.thread.ridges import Wound
from makegood.kinds.thread.ridges import threaded as turned
from makegood.mesh import Solid

NECK = ThreadForm(38.1, 35.4, 12.2 / 3, 1.3, 2.4, outside=True)
LID = ThreadForm(26.2, 24.0, 3.0, 0.9, 1.5, outside=False, starts=2, left=True)
FORMS = {
    "M8 bolt": metric_form("M8", False, True),
    "M8 nut": metric_form("M8", False, False),
    "neck": NECK,
    "lid": LID,
    "steep, three starts": ThreadForm(6.0, 4.0, 3.0, 0.2, 2.0, True, 3),
    "square": ThreadForm(12.0, 9.0, 3.0, 1.4, 1.4, True),
    "square in a bore": ThreadForm(12.0, 9.0, 3.0, 1.4, 1.4, False, 1, True),
}


def threaded(form: ThreadForm, low: float, high: float, chord: float, beyond: float = 0.0) -> Solid:
    """A threaded rod, or a ring with a threaded bore, about z; `beyond`: plain ground beyond either end of
    the thread.
    """
    ground, wall = 0.5 * form.ground, 0.5 * form.ground + 3.0
    ends = low - beyond, high + beyond
    inner, outer = (0.0, ground) if form.outside else (ground, wall)
    profile = np.array([(inner, ends[0]), (outer, ends[0]), (outer, ends[1]), (inner, ends[1])])
    outside = np.array([False, True, True, False]) if not form.outside else np.ones(4, dtype=np.bool_)
    return turned(profile, np.ones(4, dtype=np.int32), outside, chord, [Wound(form, low, high, form.left, 1)])
