"""The kinds of numpy arrays that rooms hand to one another."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int32]
Longs = npt.NDArray[np.int64]
Index = npt.NDArray[np.intp]
Bools = npt.NDArray[np.bool_]
