"""What calls for a word of caution, and what hides it: the topics in their order, and harmless phrases.

Phrases are whole words in small letters; a plural in -s or -es is found by its singular, a hyphen counts as a
blank. The longest phrase that stands at a place wins, so a harmless phrase (`gas strut`) hides the word
within it (`gas`)."""

from __future__ import annotations

from .caution_topic import Topic
from .caution_topics_harm import HARM
from .caution_topics_use import USE

TOPICS: dict[str, Topic] = HARM | USE

HARMLESS = (
    "gas strut",
    "gas spring",
    "gas lift",
    "low voltage",
    "speaker grill",
    "radiator grill",
    "air grill",
    "grill cloth",
    "drill press",
    "drill bit",
    "finger pressure",
    "hand pressure",
    "thumb pressure",
    "light pressure",
    "spring pressure",
    "pressure sensitive",
    "pressure sensitive tape",
    "climbing plant",
    "climbing rose",
    "search engine",
    "oven glove",
    "oven-glove",
    "oven gloves",
    "oven cloth",
    "tea towel",
    "gas meter cupboard",
)

SMALL_CHILD = ("baby", "babies", "child", "children", "kid", "nursery")
"""Words that call for the toy's caution only where the part is small enough to be swallowed."""

GLUES_WITH_FUMES = ("glue", "glued", "gluing")
SOLVENT_PLASTICS = ("ABS", "ASA")
