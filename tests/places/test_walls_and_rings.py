"""A notch read from a round, by its own walls; rings of holes whose angle nothing tells.  Places worked by
hand.
"""

import makegood
import pytest

STRIP = """recipe "strip with a notch"
bore pin
    drill      4.0 not 4.1
{pin}
line top
    from pin   centre 4.5
    level
    above      pin
notch cut
    wide       5.0
    high       2.4
    on         top
{cut}
round head
    around     pin
    across     9.0
round tail
    across     9.0
    from pin   centres 40.0
    level with pin
    right of   pin
plate body
    thick      3.0
    belt       head, tail
"""


def spots(text):
    result = makegood.compile_text(text)
    errors = [one for one in result.diagnostics if one.is_error]
    assert errors == []
    return {name: spot.at for name, spot in result.layout.spots.items()}


# the pin is 4.0 across, the notch 5.0 wide and its middle 31.0 right of the pin's: 31 -+ 2.5 -+ 2.0, the
# notch's edge first
@pytest.mark.parametrize("read", ["near-near 26.5", "far-far 35.5", "near-far 30.5", "far-near 31.5"])
def test_a_notch_is_read_from_a_round_by_its_own_wall(read):
    found = spots(STRIP.format(pin="", cut=f"    from pin {read}\n    right of pin"))
    assert found["cut"][0] - found["pin"][0] == pytest.approx(31.0, abs=1e-6)
    assert found["cut"][1] - found["pin"][1] == pytest.approx(4.5, abs=1e-6)


def test_left_of_the_round_the_near_wall_is_the_right_one():
    found = spots(STRIP.format(pin="", cut="    from tail near-near 4.5\n    left of tail"))
    assert found["tail"][0] - found["cut"][0] == pytest.approx(4.5 + 4.5 + 2.5, abs=1e-6)


def test_what_the_message_offers_for_a_centre_is_met():
    asked = makegood.compile_text(
        STRIP.format(pin="", cut="    from pin centre 28.5\n    right of pin")
    ).diagnostics
    offer = next(one for one in asked if one.code == "which-edge").advice[-1].partition("`pin`:")[2]
    pin = "\n".join(f"    {line.strip()}" for line in offer.split("   and   "))
    found = spots(STRIP.format(pin=pin, cut=""))
    assert found["cut"][0] - found["pin"][0] == pytest.approx(28.5 + 2.5, abs=1e-6)


def test_from_a_point_one_word_names_the_wall():
    text = STRIP + "point mark\n    around pin\n"
    near = spots(text.format(pin="", cut="    from mark near 28.5\n    right of mark"))
    far = spots(text.format(pin="", cut="    from mark far 33.5\n    right of mark"))
    assert near["cut"][0] - near["mark"][0] == pytest.approx(31.0, abs=1e-6)
    assert far["cut"] == near["cut"]


ROSE = """recipe "rose"
turning cap
    across     46.0 from 0 to 3.0
bore {one}
    across     1.5
{first}
ring inner
    of         {one}
    about      cap
    count      4
    pitch circle 12.0
bore {two}
    across     1.5
{second}
ring outer
    of         {two}
    about      cap
    count      8
    pitch circle 26.0
"""
RIGHT = "    level with cap\n    right of cap"


@pytest.mark.parametrize("names", [("a", "b"), ("b", "a")])
@pytest.mark.parametrize(("first", "second"), [("", ""), (RIGHT, ""), ("", RIGHT), (RIGHT, RIGHT)])
def test_rings_that_nothing_turns_start_at_the_right_of_their_turning(names, first, second):
    one, two = names
    found = spots(ROSE.format(one=one, two=two, first=first, second=second))
    assert (found[one], found[two]) == ((6.0, 0.0), (13.0, 0.0))


def test_a_ring_turned_on_purpose_is_left_so():
    found = spots(ROSE.format(one="a", two="b", first="", second="    plumb with cap\n    above cap"))
    assert found["b"] == pytest.approx((0.0, 13.0), abs=1e-6)
    assert found["a"] == pytest.approx((6.0, 0.0), abs=1e-6)


def test_beside_a_hole_that_has_a_direction_the_angle_is_asked_and_the_offer_is_met():
    text = ROSE + "bore key\n    across 2.0\n    at 0, 18 from cap\n"
    asked = makegood.compile_text(text.format(one="a", two="b", first="", second="")).diagnostics
    assert [one.code for one in asked] == ["left-open", "left-open"]
    assert all("level with cap" in one.advice[-1] and "right of cap" in one.advice[-1] for one in asked)
    spots(text.format(one="a", two="b", first=RIGHT, second=RIGHT))


def test_a_reading_more_of_a_ring_is_welcome():
    """Four on a circle of 12 are 12 / sqrt 2 = 8.485 from centre to centre: said as well, it moves
    nothing.
    """
    more = ROSE.format(one="a", two="b", first="", second="")
    at = more.index("ring ")
    more = more[:at] + more[at:].replace(
        "    pitch circle 12.0\n", "    pitch circle 12.0\n    from next centres 8.485\n", 1
    )
    assert "8.485" in more
    assert spots(more)["a"] == pytest.approx((6.0, 0.0), abs=1e-3)
