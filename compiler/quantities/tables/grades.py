"""Standard tolerance grades IT5 to IT14 for sizes up to 120 mm.

Source: ISO 286-1, standard tolerances, as given alike by two or three published tables (the standard itself
is priced and was not read).  A band goes from over its lower limit up to and including its upper one."""

from __future__ import annotations

BAND_TOPS = (3.0, 6.0, 10.0, 18.0, 30.0, 50.0, 80.0, 120.0)  # mm

GRADES: dict[str, tuple[int, ...]] = {  # micrometres
    "IT5": (4, 5, 6, 8, 9, 11, 13, 15),
    "IT6": (6, 8, 9, 11, 13, 16, 19, 22),
    "IT7": (10, 12, 15, 18, 21, 25, 30, 35),
    "IT8": (14, 18, 22, 27, 33, 39, 46, 54),
    "IT9": (25, 30, 36, 43, 52, 62, 74, 87),
    "IT10": (40, 48, 58, 70, 84, 100, 120, 140),
    "IT11": (60, 75, 90, 110, 130, 160, 190, 220),
    "IT12": (100, 120, 150, 180, 210, 250, 300, 350),
    "IT13": (140, 180, 220, 270, 330, 390, 460, 540),
    "IT14": (250, 300, 360, 430, 520, 620, 740, 870),
}


def tolerance_grade(grade: str, size: float) -> float:
    """Width in mm of the tolerance of that grade for a size in mm.

    Raises KeyError for a grade that is not in the table, ValueError for a size not in 0 < size <= 120.
    """
    values = GRADES[grade]
    if size > 0.0:
        for top, value in zip(BAND_TOPS, values, strict=True):
            if size <= top:
                return value / 1000.0
    raise ValueError(f"no grades for {size} mm")
