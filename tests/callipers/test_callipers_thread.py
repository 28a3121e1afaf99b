"""Threads measured back: pitch, lead, crests and ground against the closed forms of ISO 68-1."""

from __future__ import annotations

import math
from typing import Any

import pytest
from msgspec.structs import replace

from .again import found, wrong_when

CAP = """recipe "cap of a thermos"{hand}
neighbour neck
    across     26.4
    core       24.0
    pitch      9.1 over 3
    crest      1.1
    foot       1.9
    starts     3
    left-handed
turning cap
    across 34 from 0 to 18
    screws on neck from 2 to 18, 0.5 clear
"""
STUD = """recipe "stud of a shelf"
block foot
    long 40
    wide 20
    thick 16
bore nut
    at 0, 0 from foot
    thread M10
    through foot
peg stud
    on foot.front
    at 12, 0 from foot
    thread M6
    high 12
"""
H = math.sqrt(0.75)


def test_a_bolt_and_a_nut_are_of_iso_68() -> None:
    stud, nut = found(STUD, "stud"), found(STUD, "nut")
    for seen, line, told in (
        (
            stud,
            "thread M6",
            {"meant": 6, "pitch": 1, "lead": 1, "core": 6 - 17 / 12 * H, "crest": 1 / 8, "foot": 0.75},
        ),
        (nut, "thread M10", {"meant": 10, "pitch": 1.5, "lead": 1.5, "core": 10 - 1.25 * H * 1.5}),
    ):
        for key, value in told.items():
            assert seen[f"{line} [{key}]"] == pytest.approx(value, abs=1e-4), (line, key)


@pytest.mark.parametrize("hand", ["", "\n    other hand"], ids=["as read", "other hand"])
def test_a_lid_has_all_starts_of_its_neck_and_keeps_their_hand(hand: str) -> None:
    seen, line = found(CAP.replace("{hand}", hand), "cap"), "screws on neck from 2 to 18, 0.5 clear"
    assert seen[f"{line} [lead]"] == pytest.approx(-9.1, abs=1e-3)
    assert seen[f"{line} [pitch]"] == pytest.approx(9.1 / 3, abs=1e-3)
    assert seen[f"{line} [meant]"] == pytest.approx(26.9, abs=1e-4)
    assert seen[f"{line} [core]"] == pytest.approx(24.5, abs=1e-4)
    assert seen[f"{line} [clear]"] == pytest.approx(0.5, abs=1e-4)
    assert seen[f"{line} [start]"] == pytest.approx(2, abs=1e-4)


@pytest.mark.parametrize(
    ("field", "slot", "much"),
    [
        ("pitch", "pitch", 1.02),
        ("core", "core", 1.02),
        ("across", "meant", 1.02),
        ("crest", "crest", 1.1),
        ("foot", "foot", 1.02),
    ],
)
def test_a_thread_built_otherwise_is_found(field: str, slot: str, much: float) -> None:
    def change(peg: Any) -> Any:
        form = peg.thread
        return replace(peg, thread=replace(form, **{field: much * getattr(form, field)}))

    assert f"thread [{slot}]" in wrong_when(STUD, "stud", change)


def test_a_thread_of_the_wrong_hand_is_found() -> None:
    def change(peg: Any) -> Any:
        return replace(peg, thread=replace(peg.thread, left=True))

    assert wrong_when(STUD, "stud", change) == {"thread [lead]"}
