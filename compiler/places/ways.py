"""The words for which way one thing lies of another, and what the network calls them."""

from __future__ import annotations

from ..network.types import Way

WAYS = {"right": Way.RIGHT, "left": Way.LEFT, "above": Way.ABOVE, "below": Way.BELOW}
"""By the first word of a line."""
TYPED = {Way.RIGHT: "right of", Way.LEFT: "left of", Way.ABOVE: "above", Way.BELOW: "below"}
"""As a line is typed."""
