"""What calls for a word of caution, and the word itself: one topic a block.  All of it is common practice, no source,
unless a source is named.

Phrases are whole words in small letters; a plural in -s or -es is found by its singular, a hyphen counts as a blank.
The longest phrase that stands at a place wins, so a harmless phrase (`gas strut`) hides the word within it (`gas`).
"""

from __future__ import annotations

from msgspec import Struct


class Topic(Struct, frozen=True):
    """A topic: the headline's end, why, what to do instead or besides, and the phrases that call for it."""

    about: str
    why: str
    do: str
    phrases: tuple[str, ...]


TOPICS: dict[str, Topic] = {
    "mains": Topic(
        "mains electricity",
        "printed plastic is not tested as insulation, it burns, and live parts behind it kill",
        "use the maker's part where it covers or holds live parts; let a licensed electrician fit it, as local codes ask",
        ("mains", "mains voltage", "line voltage", "wall socket", "power socket", "power plug", "mains plug", "power strip",
         "extension lead", "extension cord", "socket outlet", "power outlet", "light switch", "fuse box", "fusebox",
         "consumer unit", "live wire", "wiring", "230 v", "240 v", "220 v", "120 v", "110 v", "230 volt", "240 volt",
         "220 volt", "120 volt", "110 volt", "230v", "240v", "220v", "120v", "110v", "lamp holder", "lampholder"),
    ),
    "gas": Topic(
        "gas or fuel",
        "printed walls are not tight, fuel and gas attack some plastics, and a leak burns or explodes",
        "use the maker's part for all that holds, seals or controls it; gas fittings are for licensed people, by local codes",
        ("gas", "propane", "butane", "lpg", "natural gas", "petrol", "gasoline", "diesel", "fuel", "kerosene", "paraffin"),
    ),
    "brakes": Topic(
        "brakes or steering",
        "when it gives way, somebody can't stop or steer",
        "use the maker's part, fitted by a licensed workshop; what local codes ask of a vehicle holds for spares too",
        ("brake", "handbrake", "footbrake", "braking", "steering", "steering wheel", "handlebar", "accelerator pedal",
         "throttle", "tow bar", "towbar", "tow hitch", "seat belt", "seatbelt", "airbag", "wheel nut"),
    ),
    "child": Topic(
        "something that holds or guards a child",
        "such things are tested as a whole; a spare that gives way, or a new gap, traps or drops a child",
        "use the maker's part or retire the thing; ask the maker, and mind local rules for it",
        ("child seat", "child car seat", "car seat", "baby seat", "booster seat", "cot", "crib", "pushchair", "pram",
         "baby buggy", "stroller", "high chair", "highchair", "baby gate", "stair gate", "safety gate", "playpen", "bunk bed",
         "baby carrier", "baby walker"),
    ),
    "toy": Topic(
        "a toy or a small child",
        "small children put things into the mouth; small parts, and pieces that break off, choke",
        "give toys for under three no part that comes off or splinters (EN 71-1 in Europe, 16 CFR 1501 in the United States)",
        ("toy", "doll", "dollhouse", "baby rattle", "teether", "teddy", "toddler", "infant", "play set", "playset"),
    ),
    "pressure": Topic(
        "pressure",
        "printed walls split between layers, all at once, and throw pieces",
        "use the maker's part for anything under pressure; pressure vessels are for licensed people, by local codes",
        ("pressure", "compressed air", "compressor", "psi", "boiler", "fire extinguisher", "air tank", "air line", "scuba"),
    ),
    "height": Topic(
        "a ladder or work at height",
        "it carries a life: a crack between layers is not seen before it goes",
        "use the maker's part or retire the thing; nothing printed belongs in the path of the load",
        ("ladder", "stepladder", "step stool", "scaffold", "scaffolding", "climbing", "carabiner", "karabiner",
         "safety harness", "roof rack"),
    ),
    "weight": Topic(
        "a person's weight",
        "somebody falls when it gives way, and nothing here says how strong it is",
        "use the maker's part, or try it first with more than the weight and nobody under or on it",
        ("person weight", "weight of a person", "chair", "armchair", "stool", "toilet seat", "garden bench", "bed slat",
         "hammock", "crutch", "garden swing", "porch swing", "swing seat",
         "walking stick", "walking frame", "walking aid", "wheelchair", "grab rail", "grab bar", "handrail", "banister",
         "body weight", "exercise machine", "stair lift", "stairlift", "trampoline"),
    ),
    "heat": Topic(
        "heat",
        "plastic goes soft long before it melts, sooner under load, and near a flame it burns",
        "measure how warm it gets there; use the maker's part near flames, elements and engines",
        ("kettle", "oven", "heater", "heating", "stove", "hob", "cooker", "grill", "barbecue", "bbq", "toaster", "radiator",
         "engine", "exhaust", "boiler", "fireplace", "hair dryer", "hair drier", "hairdryer", "tumble dryer",
         "tumble drier", "dishwasher", "coffee machine", "coffee maker", "steam iron", "hot water", "sauna", "dashboard",
         "parked car", "hot plate", "hotplate", "microwave", "air fryer", "soldering iron",
         "steam", "steamer", "boiling", "saucepan", "frying pan", "cooking pot", "pot lid", "pan lid", "pot handle",
         "pan handle", "casserole", "wok"),
    ),
    "food": Topic(
        "food or drink",
        "the grooves between layers keep germs, and few filaments are made for food",
        "use the maker's part where food touches it, or a plastic sold for food, washed by hand and not kept for long",
        ("food", "foodstuff", "drinking", "drinking water", "lunchbox", "lunch box", "baking", "cookie cutter", "cutlery",
         "blender", "juicer", "food processor", "ice cream", "teapot", "water bottle", "baby bottle", "coffee machine",
         "coffee maker", "coffee grinder", "coffee mill", "mug", "bread bin", "bread maker", "chopping board", "milk frother"),
    ),
    "guards": Topic(
        "something that protects a person",
        "it is only put to the test when it is too late",
        "use the maker's part or a new one: what is printed is not tested",
        ("helmet", "hard hat", "safety goggle", "respirator", "smoke alarm", "smoke detector", "gas alarm", "life jacket",
         "machine guard", "blade guard", "saw guard", "inhaler", "cpap", "prosthetic", "hearing aid", "medical"),
    ),
    "drilling": Topic(
        "drilling",
        "a bit that breaks through grabs a small part and spins it in the hand; plastic melts and jams",
        "hold it in a vice or clamp on wood, never in the hand; slowly, with eye protection",
        ("drill out", "drilled out", "drill after", "drilled after", "drill through", "drill up", "drilled up", "drill to",
         "drill by hand", "drilled by hand", "drilling", "to be drilled", "reamed", "reaming"),
    ),
    "fumes": Topic(
        "glue or solvent",
        "the fumes burn easily and go to the head; fast glue sticks skin",
        "open a window, no flames or sparks, gloves and eye protection; read the label",
        ("acetone", "superglue", "super glue", "cyanoacrylate", "solvent", "dichloromethane", "methylene chloride",
         "solvent cement", "vapour smoothing", "vapor smoothing", "vapour smoothed", "vapor smoothed"),
    ),
}  # fmt: skip

HARMLESS = (
    "gas strut", "gas spring", "gas lift", "low voltage", "speaker grill", "radiator grill", "air grill", "grill cloth",
    "drill press", "drill bit", "finger pressure", "hand pressure", "thumb pressure", "light pressure", "spring pressure",
    "pressure sensitive", "pressure sensitive tape", "climbing plant", "climbing rose", "search engine",
    "oven glove", "oven-glove", "oven gloves", "oven cloth", "tea towel", "gas meter cupboard",
)  # fmt: skip

SMALL_CHILD = ("baby", "babies", "child", "children", "kid", "nursery")
"""Words that call for the toy's caution only where the part is small enough to be swallowed."""

GLUES_WITH_FUMES = ("glue", "glued", "gluing")
SOLVENT_PLASTICS = ("ABS", "ASA")
