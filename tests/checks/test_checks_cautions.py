"""Which words call for caution, which don't, and which part is small enough to be swallowed."""

from __future__ import annotations

import math

import makegood
import numpy as np
import pytest
from makegood.checks.caution_words import HARMLESS, TOPICS
from makegood.checks.cautions import phrases_in
from makegood.checks.small_part import fits_small_parts_cylinder
from makegood.diagnostics.types import Diagnostic, Severity

from .asking import BODY, asked


def topics(text: str) -> set[str]:
    return {topic for _, some in phrases_in(text) for topic in some}


def card(*facts: str, body: str = BODY) -> list[Diagnostic]:
    return asked('recipe "part"\n' + "".join(f"    {fact}\n" for fact in facts) + body)


@pytest.mark.parametrize(
    ("text", "topic"),
    [
        ("Bedside lamp, mains dimmer", "mains"),
        ("fan, 230V", "mains"),
        ("pump, 230 V", "mains"),
        ("gas-fired camping lamp", "gas"),
        ("petrol mower tank", "gas"),
        ("bicycle brakes", "brakes"),
        ("trike steering wheel", "brakes"),
        ("child's car seat", "child"),
        ("child\u2019s seat", "child"),
        ("baby's cot", "child"),
        ("prams", "child"),
        ("toy crane", "toy"),
        ("toys", "toy"),
        ("pressure washer", "pressure"),
        ("loft ladder", "height"),
        ("camp-chair foot", "weight"),
        ("kettle lid", "heat"),
        ("pot lid knob", "heat"),
        ("years of steam", "heat"),
        ("heater cover clip", "heat"),
        ("oven knob", "heat"),
        ("lawn engine", "heat"),
        ("food mixer", "food"),
        ("coffee machines", "food"),
        ("cycle helmet", "guards"),
        ("hole drilled out by hand", "drilling"),
        ("stuck together with acetone", "fumes"),
    ],
)
def test_words_that_call_for_caution(text: str, topic: str):
    assert topic in topics(text)


@pytest.mark.parametrize(
    "text",
    [
        "gasket of a pump",
        "breakage at the hinge",
        "proven woven cloth",
        "gas strut of a tailgate",
        "speaker grill clip",
        "not mains, no gas",
        "low voltage",
        "cotton reel",
        "toyed with",
        "programme",
        "fits without heating",
        "climbing rose clip",
        "cracked under finger pressure",
        "hobby knife",
        "engineered lock",
        "scrib",
        "bothered",
        "",
        "garden hose reel, ratchet pawl",
        "kitchen scale, battery compartment",
        "hand mower, fold-down handle",
    ],
)
def test_words_that_only_look_like_it(text: str):
    assert topics(text) == set()


def test_every_phrase_of_the_table_is_found_alone_and_as_a_plural():
    for name, topic in TOPICS.items():
        for phrase in topic.phrases:
            if phrase not in HARMLESS:
                assert name in topics(f"the {phrase} of it"), phrase
                assert name in topics(phrase.upper()), phrase
    assert all(topics(phrase) == set() for phrase in HARMLESS)


def test_one_note_a_topic_that_names_the_word_and_the_line():
    one, two = card('fits "mains lamp with a mains plug"', 'broke "fell off the ladder"')
    assert (one.code, one.severity) == ("caution", Severity.NOTE)
    assert "`mains`" in one.headline
    assert one.span is not None
    assert one.span.line == 2
    assert "licensed" in one.advice[0]
    assert "`ladder`" in two.headline


def test_the_title_counts_and_the_licence_does_not():
    assert [one.code for one in asked('recipe "kettle knob"\n' + BODY)] == ["caution"]
    assert card('licence "gas kettle"') == []


@pytest.mark.parametrize(("load", "found"), [("499 N", 0), ("500 N", 1), ("80 kg", 1), ("20 kg", 0)])
def test_a_load_that_may_be_a_person(load: str, found: int):
    said = card(f"load {load} on body")
    assert len(said) == found
    assert all("weight" in one.headline for one in said)


def test_heat_tells_where_the_plastic_goes_soft():
    (one,) = card('fits "heater, about 80 \u00b0C there"', "plastic PLA")
    assert "PLA" in one.advice[0]
    assert "55" in one.advice[0]
    assert "too near" in one.advice[0]
    (one,) = card('fits "heater, about 60 C there"', "plastic ASA")
    assert "too near" not in one.advice[0]


def test_glue_is_spoken_of_only_where_it_needs_a_solvent():
    assert len(card('broke "glued twice"', "plastic ABS")) == 1
    assert card('broke "glued twice"', "plastic PETG") == []


def test_a_small_part_for_a_child():
    (one,) = card('fits "toy crane"', body=BODY.replace("40.0", "30.0"))
    assert "31.7" in one.advice[0]
    (one,) = card('fits "toy crane"', body=BODY.replace("40.0", "90.0"))
    assert "31.7" not in "".join(one.advice)
    assert len(card('fits "wardrobe of the children"', body=BODY.replace("40.0", "30.0"))) == 1
    assert card('fits "wardrobe of the children"', body=BODY.replace("40.0", "90.0")) == []


def tube(across: float, long: float, turned: float = 0.0) -> np.ndarray:
    angles = np.arange(360) * math.tau / 360
    ring = np.column_stack([0.5 * across * np.cos(angles), 0.5 * across * np.sin(angles)])
    points = np.concatenate([np.column_stack([ring, np.full(360, z)]) for z in (0.0, long)])
    c, s = math.cos(turned), math.sin(turned)
    return points @ np.array([[1, 0, 0], [0, c, s], [0, -s, c]])


@pytest.mark.parametrize(
    ("across", "long", "fits"),
    [
        (31.6, 25.3, True),
        (31.8, 25.3, False),
        (31.6, 25.6, False),
        (10.0, 47.0, True),
        (10.0, 47.2, False),
        (1.0, 80.0, False),
        (100.0, 1.0, False),
        (5.0, 5.0, True),
    ],
)
def test_the_small_parts_cylinder(across: float, long: float, fits: bool):
    """A rod of 10 pushed to the deep side lies from 5.85 to 15.85 off the axis, and the floor, slanting at 45
    degrees, is 41.25 + 5.85 = 47.1 deep where the rod meets it first."""
    assert fits_small_parts_cylinder(tube(across, long)) is fits


@pytest.mark.parametrize("turned", [0.4, 1.1])
@pytest.mark.parametrize(
    ("across", "long", "fits"),
    [
        (31.6, 25.3, True),
        (32.5, 25.3, False),
        (10.0, 47.0, True),
        (10.0, 80.0, False),
    ],
)
def test_a_part_that_was_drawn_askew_is_no_larger(across: float, long: float, fits: bool, turned: float):
    assert fits_small_parts_cylinder(tube(across, long, turned)) is fits


def test_a_wrong_recipe_is_warned_of_all_the_same():
    found = asked('recipe "kettle knob"\n' + BODY + "\nround r\n    arround p\n", ok=False)
    assert "caution" in [one.code for one in found]


def test_nothing_is_said_of_strength():
    assert not any(
        "MPa" in text or "N/mm" in text for topic in TOPICS.values() for text in (topic.why, topic.do)
    )


def test_the_compiler_itself_speaks_no_other_severity():
    result = makegood.compile_text('recipe "kettle knob"\n    load 80 kg on body\n' + BODY)
    assert result.ok
    assert {one.severity for one in result.diagnostics} == {Severity.NOTE}
