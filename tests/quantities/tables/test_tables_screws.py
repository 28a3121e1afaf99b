"""Screws against the rows they were taken from, and against the formulas that tie the rows together.

The rows below were typed a second time, column by column, from published tables that agree with one another
(ISO 273: four tables; ISO 261 and ISO 2306: a tool maker's tapping guide and an engineer's data handbook; ISO
4762, 4032, 7089: two to four each; counterbores: two that follow DIN 974-1).  The priced standards were not
read."""

from __future__ import annotations

import msgspec
import pytest
from makegood.diagnostics.types import Trouble
from makegood.quantities.tables import SCREWS, screw
from makegood.quantities.tables.threads import metric_thread

SIZES = ("M1.6", "M2", "M2.5", "M3", "M4", "M5", "M6", "M8", "M10", "M12")

CLEARANCE = """ISO 273: fine H12, medium H13, coarse H14
M1.6 1.7 1.8 2.0
M2 2.2 2.4 2.6
M2.5 2.7 2.9 3.1
M3 3.2 3.4 3.6
M3.5 3.7 3.9 4.2
M4 4.3 4.5 4.8
M5 5.3 5.5 5.8
M6 6.4 6.6 7.0
M7 7.4 7.6 8.0
M8 8.4 9.0 10.0
M10 10.5 11.0 12.0
M12 13.0 13.5 14.5"""

THREADS = """ISO 261 pitch; d2, d3, D1 by ISO 68-1 to four places; ISO 2306 tapping drill
M1 0.25 0.8376 0.6933 0.7294 0.75
M1.2 0.25 1.0376 0.8933 0.9294 0.95
M1.4 0.3 1.2051 1.0319 1.0752 1.1
M1.6 0.35 1.3727 1.1706 1.2211 1.25
M1.8 0.35 1.5727 1.3706 1.4211 1.45
M2 0.4 1.7402 1.5093 1.567 1.6
M2.5 0.45 2.2077 1.9479 2.0129 2.05
M3 0.5 2.6752 2.3866 2.4587 2.5
M3.5 0.6 3.1103 2.7639 2.8505 2.9
M4 0.7 3.5453 3.1412 3.2422 3.3
M5 0.8 4.4804 4.0185 4.134 4.2
M6 1.0 5.3505 4.7731 4.9175 5.0
M7 1.0 6.3505 5.7731 5.9175 6.0
M8 1.25 7.1881 6.4664 6.6468 6.8
M10 1.5 9.0257 8.1597 8.3762 8.5
M12 1.75 10.8633 9.853 10.1056 10.2"""

SOCKET_HEADS = {  # ISO 4762
    "across_most": (3.0, 3.8, 4.5, 5.5, 7.0, 8.5, 10.0, 13.0, 16.0, 18.0),
    "across_least": (2.86, 3.62, 4.32, 5.32, 6.78, 8.28, 9.78, 12.73, 15.73, 17.73),
    "height": (1.6, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0),
    "key": (1.5, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0),
    "key_depth": (0.7, 1.0, 1.1, 1.3, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0),
}
NUTS = {  # ISO 4032
    "flats_most": (3.2, 4.0, 5.0, 5.5, 7.0, 8.0, 10.0, 13.0, 16.0, 18.0),
    "flats_least": (3.02, 3.82, 4.82, 5.32, 6.78, 7.78, 9.78, 12.73, 15.73, 17.73),
    "corners_least": (3.41, 4.32, 5.45, 6.01, 7.66, 8.79, 11.05, 14.38, 17.77, 20.03),
    "height_most": (1.3, 1.6, 2.0, 2.4, 3.2, 4.7, 5.2, 6.8, 8.4, 10.8),
    "height_least": (1.05, 1.35, 1.75, 2.15, 2.9, 4.4, 4.9, 6.44, 8.04, 10.37),
}
WASHERS = {  # ISO 7089
    "hole": (1.7, 2.2, 2.7, 3.2, 4.3, 5.3, 6.4, 8.4, 10.5, 13.0),
    "across": (4.0, 5.0, 6.0, 7.0, 9.0, 10.0, 12.0, 16.0, 20.0, 24.0),
    "thick": (0.3, 0.3, 0.5, 0.5, 0.8, 1.0, 1.6, 1.6, 2.0, 2.5),
}
COUNTERBORES = (3.5, 4.4, 5.5, 6.5, 8, 10, 11, 15, 18, 20)  # tables that follow DIN 974-1
SUNK_SOCKET = {  # ISO 10642: theoretical head, height
    "M3": (6.72, 1.86), "M4": (8.96, 2.48), "M5": (11.2, 3.1), "M6": (13.44, 3.72), "M8": (17.92, 4.96),
    "M10": (22.4, 6.2), "M12": (26.88, 7.44),
}  # fmt: skip
SUNK_CROSS = {  # ISO 7046: largest real head, height
    "M2": (3.8, 1.2), "M2.5": (4.7, 1.5), "M3": (5.5, 1.65), "M3.5": (7.3, 2.35), "M4": (8.4, 2.7), "M5": (9.3, 2.7),
    "M6": (11.3, 3.3), "M8": (15.8, 4.65), "M10": (18.3, 5.0),
}  # fmt: skip


def rows_of(text: str) -> dict[str, tuple[float, ...]]:
    return {row.split()[0]: tuple(map(float, row.split()[1:])) for row in text.splitlines()[1:]}


def test_every_clearance_hole():
    table = {name: msgspec.structs.astuple(made.clearance) for name, made in SCREWS.items() if made.clearance}
    assert table == rows_of(CLEARANCE)


def test_every_pitch_drill_and_thread_diameter():
    rows = rows_of(THREADS)
    assert list(SCREWS) == list(rows)
    for name, (pitch, _, d3, core, drill) in rows.items():
        made = SCREWS[name]
        assert (made.name, made.pitch, made.tap_drill) == (name, pitch, drill)
        assert made.across == float(name[1:])
        thread = metric_thread(name)
        assert (thread.root, thread.core) == pytest.approx((d3, core), abs=6e-5)


@pytest.mark.parametrize(
    ("part", "columns"),
    [("socket_head", SOCKET_HEADS), ("nut", NUTS), ("washer", WASHERS)],
    ids=["head", "nut", "washer"],
)
def test_every_head_nut_and_washer(part, columns):
    table = {
        name: msgspec.structs.asdict(getattr(made, part))
        for name, made in SCREWS.items()
        if getattr(made, part)
    }
    assert table == {
        name: {key: values[i] for key, values in columns.items()} for i, name in enumerate(SIZES)
    }


def test_every_counterbore():
    table = {name: made.counterbore for name, made in SCREWS.items() if made.counterbore}
    assert table == dict(zip(SIZES, COUNTERBORES, strict=True))


def test_every_countersunk_head():
    sockets = {name: made.sunk_socket for name, made in SCREWS.items() if made.sunk_socket}
    assert {name: (head.sharp, head.height) for name, head in sockets.items()} == SUNK_SOCKET
    crosses = {name: made.sunk_cross for name, made in SCREWS.items() if made.sunk_cross}
    assert {name: (head.across, head.height) for name, head in crosses.items()} == SUNK_CROSS


def test_a_head_of_90_degrees_is_half_as_high_as_it_is_wider_than_its_thread():
    seen = 0
    for made in SCREWS.values():
        for head in (made.sunk_socket, made.sunk_cross):
            if head is not None:
                seen += 1
                assert head.height == pytest.approx((head.sharp - made.across) / 2.0, abs=1e-9)
                assert head.across is None or made.across < head.across < head.sharp
    assert seen == len(SUNK_SOCKET) + len(SUNK_CROSS)


def test_the_sizes_of_one_screw_fit_together():
    seen = 0
    for made in SCREWS.values():
        assert (
            metric_thread(made.name).core < made.tap_drill < made.across
        )  # a tapping drill leaves a thread to cut
        if made.clearance:
            assert made.across < made.clearance.fine < made.clearance.medium < made.clearance.coarse
        if made.socket_head and made.nut and made.washer and made.counterbore:
            seen += 1
            head = made.socket_head
            assert made.clearance.coarse < head.across_least < head.across_most < made.counterbore
            assert made.washer.hole == made.clearance.fine  # ISO 7089 holes are those of the fine series
            # grade A and B nuts: blunted corners, never wider than the sharp ones nor narrower than the flats
            assert made.nut.flats_most < made.nut.corners_least
    assert seen == len(SIZES)


@pytest.mark.parametrize("name", ["M4", "m4", " M4 ", "M 4", "m4.0", "M4."])
def test_forgiving_names(name):
    assert screw(name) is SCREWS["M4"]


@pytest.mark.parametrize(
    ("name", "meant"),
    [
        ("M2,5", "M2.5"), ("M4x20", "M4"), ("m3 x 0.5", "M3"), ("M4.5", "M4 or M5"), ("M9", "M8 or M10"),
        ("M16", "M12"), ("M0.5", "M1"), ("4", "M4"), ("N4", None), ("", None), ("M", None),
        ("m4\u0664", "M4"), ("MM4", "M4"),
    ],
)  # fmt: skip
def test_unknown_names_are_answered(name, meant):
    with pytest.raises(Trouble) as caught:
        screw(name)
    assert caught.value.code == "unknown-screw"
    assert caught.value.advice[-1].startswith("known are M1, M1.2,")
    if meant:
        assert caught.value.advice[0] == f"did you mean {meant}?"
