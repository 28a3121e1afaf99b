"""Many rows of text with numbers in them, as bytes, made by numpy a block at a time.

Problem: a mesh of half a million triangles is 1.5 million indices and 0.75 million coordinates; formatting
each with `%` takes seconds and a hundred megabytes of small strings.  Choice: every number becomes a row of
digit characters of one fixed width with a mask that says which of them are kept (leading and trailing zeros
are not); the constant text stands between as columns; the mask then squeezes a whole block into its bytes.
Rejected: shortest-digits formatting of doubles, which writes exponents and, for a coordinate that was
computed, seventeen digits of noise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import numpy.typing as npt

from ..quantities.arrays import Longs

PLACES = 6
_BLOCK = 1 << 15

Bytes = npt.NDArray[np.uint8]
Kept = npt.NDArray[np.bool_]
_Columns = tuple[Bytes, Kept]


def index_rows(pieces: Sequence[str], values: npt.NDArray[np.integer]) -> Iterator[bytes]:
    """Rows of text for values (n, k), none negative: pieces[0] value pieces[1] value ... pieces[k], digits
    0-9.
    """
    longs = values.astype(np.int64)
    if longs.size and longs.min() < 0:
        raise ValueError("an index is never negative")
    for start in range(0, len(longs), _BLOCK):
        yield _block(pieces, [_whole(column) for column in longs[start : start + _BLOCK].T])


def decimal_rows(pieces: Sequence[str], values: npt.NDArray[np.float64]) -> Iterator[bytes]:
    """Rows of text for values (n, k) in mm, rounded to 1e-6: the fewest digits that say so, a point, no
    exponent.

    Raises ValueError for what is no number or beyond 1e9 mm."""
    if not (np.abs(values) < 1e9).all():
        raise ValueError("a coordinate is no number, or farther off than any part reaches")
    millionths = np.rint(values * 10.0**PLACES).astype(np.int64)
    for start in range(0, len(millionths), _BLOCK):
        yield _block(pieces, [_decimal(column) for column in millionths[start : start + _BLOCK].T])


def _block(pieces: Sequence[str], numbers: Sequence[_Columns]) -> bytes:
    """The rows of one block, squeezed."""
    rows = len(numbers[0][0])
    parts = [_constant(pieces[0], rows)]
    for number, piece in zip(numbers, pieces[1:], strict=True):
        parts += [number, _constant(piece, rows)]
    text = np.concatenate([characters for characters, _ in parts], axis=1)
    kept = np.concatenate([mask for _, mask in parts], axis=1)
    squeezed: Bytes = text[kept]
    return squeezed.tobytes()


def _constant(piece: str, rows: int) -> _Columns:
    characters = np.frombuffer(piece.encode("ascii"), dtype=np.uint8)
    shape = (rows, len(characters))
    return np.broadcast_to(characters, shape), np.broadcast_to(np.True_, shape)


def _whole(values: Longs) -> _Columns:
    """Digits of whole numbers >= 0; zeros in front are dropped, but for the last digit."""
    width = len(str(int(values.max(initial=0))))
    digits = _digits(values, width)
    kept = np.logical_or.accumulate(digits != ord("0"), axis=1)
    kept[:, -1] = True
    return digits, kept


def _decimal(millionths: Longs) -> _Columns:
    """Sign, whole part, point and decimals of numbers given in millionths; zeros at either end are
    dropped.
    """
    whole, part = np.divmod(np.abs(millionths), 10**PLACES)
    front, front_kept = _whole(whole)
    back = _digits(part, PLACES)
    back_kept = np.logical_or.accumulate((back != ord("0"))[:, ::-1], axis=1)[:, ::-1]
    minus, point = _constant("-", len(whole))[0], _constant(".", len(whole))[0]
    return (
        np.concatenate([minus, front, point, back], axis=1),
        np.concatenate([(millionths < 0)[:, None], front_kept, back_kept[:, :1], back_kept], axis=1),
    )


def _digits(values: Longs, width: int) -> Bytes:
    digits = np.empty((len(values), width), dtype=np.uint8)
    rest = values
    for place in range(width - 1, -1, -1):
        rest, digit = np.divmod(rest, 10)
        digits[:, place] = digit + ord("0")
    return digits
