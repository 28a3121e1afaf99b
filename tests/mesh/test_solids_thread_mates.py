"""A bolt in its nut, and how much room a mate leaves."""

from __future__ import annotations

import pytest
from makegood.kinds.thread.form import ThreadForm, mate, metric_form
from makegood.kinds.thread.section import ridge_section
from makegood.mesh import Solid, overlap

from .thread_bodies import FORMS, NECK, threaded


def bolt_and_nut(male: ThreadForm, female: ThreadForm, chord: float) -> tuple[Solid, Solid]:
    """A long bolt and a nut of four turns on it, set so that ridges of the one stand in the gaps of the
    other.
    """
    high = 9.0 * male.lead
    half_male, half_female = (ridge_section(one, chord)[-1][0] for one in (male, female))
    low = 3.0 * male.lead + 0.5 * male.pitch + half_male - half_female
    top = low + 4.0 * male.lead
    return threaded(male, 0.0, high, chord), threaded(female, low, top, chord)


@pytest.mark.parametrize("name", ["M8 bolt", "neck", "steep, three starts", "square"])
def test_a_nut_of_the_true_profile_goes_on_without_touching_and_turned_a_little_it_does_not(name: str):
    male = FORMS[name]
    female = metric_form("M8", False, False) if name == "M8 bolt" else mate(male, 0.0)
    bolt, nut = bolt_and_nut(male, female, 0.01)
    assert overlap(bolt, nut) < 1e-6
    assert (
        overlap(bolt, nut.translate((0.0, 0.0, 0.5 * male.pitch))) > 0.1
    )  # ridge on ridge: the test sees something
    further = nut.rotate((0.0, 0.0, 90.0)).translate((0.0, 0.0, 0.25 * male.lead))
    assert overlap(bolt, further) < 1e-6  # a quarter turn goes on by a quarter of the lead: right-handed


@pytest.mark.parametrize("clear", [0.1, 0.3])
def test_a_mate_is_clear_all_round(clear: float):
    """The least gap between a neck and its cap is half of what was asked, by the kernel's own measure."""
    bolt, nut = bolt_and_nut(NECK, mate(NECK, clear), 0.002)
    assert bolt.min_gap(nut, 1.0) == pytest.approx(0.5 * clear, abs=0.006)


def test_the_mate_of_the_mate_is_the_thread():
    back = mate(mate(NECK, 0.0), 0.0)
    assert (back.across, back.core, back.crest, back.foot, back.outside) == pytest.approx(
        (38.1, 35.4, 1.3, 2.4, True)
    )
