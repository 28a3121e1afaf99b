"""One hostile text compiled in a process of its own, with its memory watched: `python -m
tests.properties.hostile NAME`.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

HEAD = 'recipe "hostile"\n'
WHEEL = HEAD + (
    "turning wheel\n    across 30.0 from 0 to 8.0\nbore light\n"
    "    at 8.0, 0 from wheel\n    across 5.0\n    through wheel\n"
)
SIZES = "block b\n    wide 3\n    thick 3\n    long "


def _bodies(count: int) -> str:
    return HEAD + SIZES + f"3\nrow r\n    of b\n    count {count}\n    pitch 2.5\n"


def _leaning(count: int) -> str:
    return (
        HEAD
        + "".join(f"let a{i} = a{i + 1} + 1\n" for i in range(count))
        + f"let a{count} = 1\n"
        + SIZES
        + "a0\n"
    )


ITSELF = """let a = a
let b = c
let c = b
block d
    on d.front
    long d.wide
    wide d.long
    thick 3
    from d.left near 3
bore e
    around e
    across e.across
ring r
    of r
    count 3
    about r
plate p
    on q.front
    thick 3
    belt e
plate q
    on p.front
    thick 3
    belt e
block s
    long 3
    wide 3
    thick 3
    flush with t.front
block t
    long 3
    wide 3
    thick 3
    flush with s.front
line l
    parallel to l
plane m
    raised 3 from m
"""


CASES: dict[str, Callable[[], str]] = {
    "ring of 10^9": lambda: WHEEL + "ring r\n    of light\n    count 1000000000\n    about wheel\n",
    "ring of 10^4": lambda: WHEEL + "ring r\n    of light\n    count 10000\n    about wheel\n",
    "grid of 10^8": lambda: WHEEL + "grid r\n    of light\n    count 10000, 10000\n    pitch 1, 1\n",
    "20000 bodies": lambda: _bodies(20_000),
    "9999 bodies": lambda: _bodies(9_999),
    "300 digits": lambda: HEAD + SIZES + "9" * 300 + "\n",
    "1900 digits below": lambda: HEAD + SIZES + "1/" + "9" * 1900 + " in\n",
    "100000 brackets": lambda: HEAD + SIZES + "(" * 100_000 + "3" + ")" * 100_000 + "\n",
    "900 brackets": lambda: HEAD + SIZES + "(" * 900 + "3" + ")" * 900 + "\n",
    "900 signs": lambda: HEAD + SIZES + "1+" * 900 + "1\n",
    "900 signs and a text": lambda: HEAD + SIZES + "1+" * 900 + '1 "x"\n',
    "2000000 characters": lambda: HEAD + SIZES + "3, " * 666_666 + "3\n",
    "one list on 50000 lines": lambda: HEAD + "plate b\n    thick 3\n    belt " + "a,\n" * 50_000 + "a\n",
    "200000 statements": lambda: "".join(f"point p{i}\n" for i in range(200_000)),
    "200000 facts": lambda: HEAD + "point p\n" + "".join(f"    from q {i}\n" for i in range(200_000)),
    "1100000 lines": lambda: HEAD + "\n" * 1_100_000,
    "5000 numbers in a chain": lambda: _leaning(5_000),
    "5000 numbers in a circle": lambda: (
        HEAD + "".join(f"let a{i} = a{(i + 1) % 5000}\n" for i in range(5_000))
    ),
    "leaning on itself": lambda: HEAD + ITSELF,
}


def main(name: str) -> None:
    """Compile one case and print the seconds, whether a part came of it, and how many errors."""
    import makegood

    if name == "50 MB file":
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "big.mend"
            file.write_text("# x\n" * 12_500_000, encoding="utf-8", newline="\n")
            start = time.monotonic()
            result = makegood.compile_file(file)
    else:
        text = CASES[name]()
        start = time.monotonic()
        result = makegood.compile_text(text)
    errors = sum(one.is_error for one in result.diagnostics)
    print(f"{time.monotonic() - start:.2f} {int(result.ok)} {errors} {_most_memory():.0f}")


def _most_memory() -> float:
    """The most memory this process has held, in MB; 0 on systems that do not tell.

    Where the system keeps a mark for the program alone, by that: the other one begins at what the parent
    held."""
    status = Path("/proc/self/status")
    if status.exists():
        return int(status.read_text(encoding="ascii").split("VmHWM:")[1].split()[0]) / 1024
    try:
        import resource
    except ImportError:
        return 0.0
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / (2**20 if sys.platform == "darwin" else 2**10)


if __name__ == "__main__":
    main(sys.argv[1])
