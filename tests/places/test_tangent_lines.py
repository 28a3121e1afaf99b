"""Lines of given direction that touch a round lie where the distance from its centre puts them, whatever
things are called.
"""

import itertools
import math

import makegood
import pytest

LATCH = """recipe "drawer latch"
bore {pin}
    across     4.0
round {barrel}
    {around}
    across     9.0
line {top}
    {touches}
    level
    above      {pin}
line {end}
    square to  {top}
    from {pin}   centre 38.0
    right of   {pin}
line {inner}
    parallel to {end}
    from {end}   2.5
    left of    {end}
bore {spring}
    across     2.5
    from {top}   centre 5.0
    from {pin}   centres 19.474
    above      {top}
    right of   {pin}
round {eye}
    around     {spring}
    across     7.0
line {rear}
    square to  {top}
    from {eye} near 0
    right of   {spring}
notch {cut}
    wide       5.0
    high       2.4
    on         {top}
    from {end} near 7
    left of    {end}
plate {body}
    thick      3.0
    belt       {barrel}, {eye}
"""
ROLES = ("pin", "barrel", "top", "end", "inner", "spring", "eye", "rear", "cut")


def placed(text, **roles):
    result = makegood.compile_text(text.format(**roles, body="body"))
    assert [
        one for one in result.diagnostics if one.code in ("two-places", "left-open", "side-word-wrong")
    ] == []
    spots, lines = result.layout.spots, result.layout.lines
    x, y = spots[roles["pin"]].at
    things = {
        role: (spots[name].at[0] - x, spots[name].at[1] - y) for role, name in roles.items() if name in spots
    }
    for role, name in roles.items():
        if name in lines:
            angle, offset = lines[name][1].angle, lines[name][1].offset
            foot = (math.cos(angle) * offset, math.sin(angle) * offset)
            things[role] = foot[1] - y if abs(math.sin(angle)) > 0.5 else foot[0] - x
    return things


@pytest.mark.parametrize("by", range(9))
@pytest.mark.parametrize("apart", [0.0, 0.5])
def test_a_line_that_touches_a_round_is_found(by, apart):
    # the barrel of 9 touches at 4.5 above the pin; the spring is 4.5 + 5.0 up and so sqrt(19.474^2 - 9.5^2)
    # to the right
    names = [f"n{k}" for k in range(9)]
    roles = dict(zip(ROLES, names[by:] + names[:by], strict=True))
    text = LATCH.replace("{around}", "at {apart}, 0 from {pin}" if apart else "around {pin}")
    text = text.replace("{touches}", "from {barrel} near 0").replace("{apart}", str(apart))
    found = placed(text, **roles)
    along = math.sqrt(19.474**2 - 9.5**2)
    assert found["spring"] == pytest.approx((along, 9.5), abs=1e-5)
    assert found["barrel"] == pytest.approx((apart, 0.0), abs=1e-5)
    assert found["cut"] == pytest.approx((38.0 - 7.0 - 2.5, 4.5), abs=1e-5)
    lines = {role: found[role] for role in ("top", "end", "inner", "rear")}
    assert lines == pytest.approx({"top": 4.5, "end": 38.0, "inner": 35.5, "rear": along + 3.5}, abs=1e-5)


def test_the_order_of_heads_changes_nothing():
    roles = dict(zip(ROLES, ROLES, strict=True))
    text = LATCH.replace("{around}", "around {pin}").replace("{touches}", "from {barrel} near 0")
    head, *heads = _heads(text.format(**roles, body="body"))
    first = makegood.compile_text(head + "".join(heads))
    for turned in itertools.islice(itertools.permutations(heads), 0, 40320, 8000):
        again = makegood.compile_text(head + "".join(turned))
        assert again.layout.spots == first.layout.spots
        assert again.layout.lines == first.layout.lines


def _heads(text):
    heads = []
    for row in text.splitlines(keepends=True):
        heads += [row] if not row.startswith(" ") else []
        heads[-1] += row if row.startswith(" ") else ""
    return heads
