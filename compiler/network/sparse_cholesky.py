"""Cholesky factorisation of sparse normal equations, in plain numpy: dense pieces hung in a tree.

Problem: 1,000 holes have 3,000 unknowns; a dense matrix of them takes 72 MB and a minute, yet each hole is
tied to a few others only.  Choice: nested dissection.  What is tied to very many (a drill size shared by all
holes, a long edge) goes last; the rest is halved again and again by the thinnest level of a breadth-first
walk until pieces are small; each piece is factorised densely and hands what is left to the piece above it.  A
small network is one piece, so there is one code for all sizes.  The same tree gives the inverse where rows
need it (their own columns), never the whole inverse. Rejected: scipy's sparse LU (start-up time, a heavy
dependency), a band matrix (a shared size ruins the band). Sources: George 1973 (nested dissection); Duff and
Reid 1983 (fronts); Takahashi 1973 (the inverse on the pattern of the factor); all from memory."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ..quantities.arrays import Floats, Index

LEAF = 48  # nodes up to which a piece stays whole
HUB = 24  # more neighbours than this, and four times the mean: goes last
THICK = 0.4  # a cut through more than this share of a piece isn't worth making


class Front(Struct, frozen=True, eq=False):
    """One dense piece: its columns (the first `own` are eliminated here), the matrix entries and rows that
    fall to it, its parent and where the columns it hands up stand there."""

    columns: Index
    own: int
    rows: int
    entries: Index
    local: tuple[Index, Index]
    parent: int
    there: Index


class EliminationTree(Struct, frozen=True, eq=False):
    """The pieces, children before parents, for a matrix of `width` columns."""

    width: int
    fronts: tuple[Front, ...]


def _walk(ties: Sequence[set[int]], start: int, inside: set[int]) -> list[list[int]]:
    """Levels of a breadth-first walk from `start` within `inside`."""
    seen, levels = {start}, [[start]]
    while True:
        after = sorted({m for n in levels[-1] for m in ties[n] if m in inside} - seen)
        if not after:
            return levels
        seen.update(after)
        levels.append(after)


def _parts(ties: Sequence[set[int]], nodes: Sequence[int]) -> list[list[int]]:
    """Connected parts of some nodes, by first node."""
    left, found = set(nodes), []
    for node in nodes:
        if node in left:
            part = sorted(n for level in _walk(ties, node, left) for n in level)
            left.difference_update(part)
            found.append(part)
    return found


def _cut(ties: Sequence[set[int]], part: list[int]) -> tuple[list[int], list[int]]:
    """A thin level in the middle of a connected part, and the rest; all of it where no thin cut exists."""
    inside = set(part)
    far = _walk(ties, part[0], inside)[-1][0]
    levels = _walk(ties, far, inside)
    before, best = 0, (len(part), -1)
    for k, level in enumerate(levels):
        if 0.25 * len(part) <= before + len(level) / 2 <= 0.75 * len(part):
            best = min(best, (len(level), k))
        before += len(level)
    if best[1] < 0 or best[0] > THICK * len(part):
        return part, []
    middle = set(levels[best[1]])
    return levels[best[1]], [n for n in part if n not in middle]


def _dissect(ties: Sequence[set[int]]) -> list[list[int]]:
    """Groups of nodes in order of elimination: pieces before the cuts that part them, hubs last."""
    mean = sum(len(t) for t in ties) / max(1, len(ties))
    hubs = [n for n, t in enumerate(ties) if len(t) > max(HUB, 4 * mean)] if len(ties) > LEAF else []
    apart = set(hubs)
    groups = [hubs] if hubs else []
    stack = [[n for n in range(len(ties)) if n not in apart]]
    while stack:
        small: list[int] = []
        for part in _parts(ties, stack.pop()):
            if len(part) > LEAF:
                middle, rest = _cut(ties, part)
                groups.append(middle)
                if rest:
                    stack.append(rest)
                continue
            if len(small) + len(part) > LEAF:
                groups.append(small)
                small = []
            small = small + part
        if small:
            groups.append(small)
    return groups[::-1]


def make_tree(widths: Sequence[int], rows: Index, columns: Index) -> EliminationTree:
    """The tree for a matrix given by its entries (`rows`, `columns`); node n owns the next `widths[n]`
    columns.
    """
    first = np.concatenate([[0], np.cumsum(np.asarray(widths, dtype=np.intp))])
    width = int(first[-1])
    node_of = np.repeat(np.arange(len(widths)), widths)
    height = int(rows.max()) + 1 if len(rows) else 0
    members: list[set[int]] = [set() for _ in range(height)]
    for r, n in zip(rows.tolist(), node_of[columns].tolist(), strict=True):
        members[r].add(n)
    ties: list[set[int]] = [set() for _ in widths]
    for clique in {tuple(sorted(m)) for m in members}:
        for n in clique:
            ties[n].update(clique)
    for n, tied in enumerate(ties):
        tied.discard(n)
    groups = _dissect(ties)
    turn = np.zeros(len(widths), dtype=np.intp)
    for k, group in enumerate(groups):
        turn[group] = k
    home = np.full(height, len(groups), dtype=np.intp)
    np.minimum.at(home, rows, turn[node_of[columns]])
    pieces = _pieces(groups, ties, turn, first)
    return EliminationTree(width, _fronts(pieces, home, rows, columns))


class _Hung(Struct, frozen=True, eq=False):
    """A group of nodes hung in the tree: its columns (the first `own` are eliminated here) and its parent."""

    columns: Index
    own: int
    parent: int


def _pieces(groups: Sequence[list[int]], ties: Sequence[set[int]], turn: Index, first: Index) -> list[_Hung]:
    """The groups hung in a tree: each hands what it is tied to further on to the first group among those."""
    edges: list[list[int]] = []
    parents: list[int] = []
    handed: list[set[int]] = [set() for _ in groups]
    for k, group in enumerate(groups):
        near = {m for n in group for m in ties[n] if turn[m] > k} | {m for m in handed[k] if turn[m] > k}
        edge = sorted(near, key=lambda m: (turn[m], m))
        edges.append(edge)
        parents.append(int(turn[edge[0]]) if edge else -1)
        if edge:
            handed[parents[-1]].update(edge)
    return [
        _Hung(
            np.array([c for n in [*g, *e] for c in range(first[n], first[n + 1])], dtype=np.intp),
            int(sum(first[n + 1] - first[n] for n in g)),
            parent,
        )
        for g, e, parent in zip(groups, edges, parents, strict=True)
    ]


def _fronts(pieces: Sequence[_Hung], home: Index, rows: Index, columns: Index) -> tuple[Front, ...]:
    """The pieces with the entries that fall to each: those of the rows whose `home` it is."""
    order = np.argsort(home[rows], kind="stable")
    bounds = np.searchsorted(home[rows][order], np.arange(len(pieces) + 1))
    place = np.zeros(sum(piece.own for piece in pieces), dtype=np.intp)
    fronts = []
    for k, piece in enumerate(pieces):
        entries = order[bounds[k] : bounds[k + 1]]
        place[piece.columns] = np.arange(len(piece.columns))
        mine, local_rows = np.unique(rows[entries], return_inverse=True)
        local = (local_rows.astype(np.intp), place[columns[entries]])
        there = np.zeros(0, dtype=np.intp)
        if piece.parent >= 0:
            above = pieces[piece.parent].columns
            place[above] = np.arange(len(above))
            there = place[piece.columns[piece.own :]]
        fronts.append(Front(piece.columns, piece.own, len(mine), entries, local, piece.parent, there))
    return tuple(fronts)


class Factor:
    """A factorised J'J + diag(ridge).  Raises numpy's LinAlgError where that is not positive."""

    def __init__(self, tree: EliminationTree, values: Floats, ridge: Floats) -> None:
        self.tree = tree
        self.lower: list[Floats] = []
        self.side: list[Floats] = []
        waiting: dict[int, list[tuple[Index, Floats]]] = {}
        for k, front in enumerate(tree.fronts):
            dense = np.zeros((front.rows, len(front.columns)))
            np.add.at(dense, front.local, values[front.entries])
            matrix = dense.T @ dense
            m = front.own
            matrix[np.arange(m), np.arange(m)] += ridge[front.columns[:m]]
            for there, extra in waiting.pop(k, ()):
                matrix[there[:, None], there] += extra
            inverse = np.linalg.inv(np.linalg.cholesky(matrix[:m, :m])) if m else np.zeros((0, 0))
            side = inverse @ matrix[:m, m:]
            self.lower.append(inverse)
            self.side.append(side)
            if front.parent >= 0:
                waiting.setdefault(front.parent, []).append((front.there, matrix[m:, m:] - side.T @ side))

    def solve(self, right: Floats) -> Floats:
        """x with (J'J + ridge) x = right; right may have several columns."""
        x = np.array(right, dtype=float)
        fronts = self.tree.fronts
        for front, lower, side in zip(fronts, self.lower, self.side, strict=True):
            own, edge = front.columns[: front.own], front.columns[front.own :]
            x[own] = lower @ x[own]
            x[edge] -= side.T @ x[own]
        for front, lower, side in zip(fronts[::-1], self.lower[::-1], self.side[::-1], strict=True):
            own, edge = front.columns[: front.own], front.columns[front.own :]
            x[own] = lower.T @ (x[own] - side @ x[edge])
        return x

    def inverse_parts(self) -> list[Floats]:
        """The inverse at the columns of every front."""
        found: list[Floats] = [np.zeros((0, 0))] * len(self.tree.fronts)
        for k in range(len(self.tree.fronts) - 1, -1, -1):
            front, m = self.tree.fronts[k], self.tree.fronts[k].own
            lower, side = self.lower[k], self.side[k]
            whole = np.empty((len(front.columns), len(front.columns)))
            if front.parent >= 0:
                above = found[front.parent][np.ix_(front.there, front.there)]
                across = lower.T @ side
                cross = -across @ above
                whole[m:, m:], whole[:m, m:], whole[m:, :m] = above, cross, cross.T
                whole[:m, :m] = lower.T @ lower - cross @ across.T
            else:
                whole[:m, :m] = lower.T @ lower
            found[k] = whole
        return found
