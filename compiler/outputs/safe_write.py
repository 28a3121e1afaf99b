"""A file is either written whole or not touched.

Problem: a full disk or a Ctrl-C in the middle of a write leaves half a mesh where a good one was.  Choice:
the bytes go to a new file in the same folder, are forced to the disk, and take the old file's place in one
step.  A link is followed, so that the file it points to is renewed and the link stays.  What is no ordinary
file (a pipe, a device) is written straight: there is nothing there to put in its place. Rejected: a temporary
file in the system's own folder, because a rename between two disks is a copy."""

from __future__ import annotations

import contextlib
import errno
import os
import stat

from ..diagnostics.types import Trouble

_FULL = {errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)}
_FORBIDDEN = {errno.EACCES, errno.EPERM, errno.EROFS}
_NAMES = 1000


def write_whole(path: str | os.PathLike[str], data: bytes) -> None:
    """Put `data` in the file at `path`, all or nothing; permissions of a file that is there already are kept.

    Raises Trouble: 'folder-missing', 'is-a-folder', 'no-permission', 'disk-full', 'cannot-write' for all
    else."""
    try:
        _write(os.fspath(path), data)
    except (OSError, ValueError) as wrong:
        raise _trouble(wrong, os.fspath(path)) from wrong


def _write(path: str, data: bytes) -> None:
    if not path:
        raise ValueError("no name at all")
    there = _state(path)
    if there is not None and stat.S_ISDIR(there.st_mode):
        raise IsADirectoryError(errno.EISDIR, "is a folder", path)
    if there is not None and not stat.S_ISREG(there.st_mode):
        with open(path, "wb") as straight:
            straight.write(data)
        return
    target = os.path.realpath(path)
    if os.path.islink(target):
        raise OSError(errno.ELOOP, "links that lead round in a circle", path)
    if there is not None and not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, "is write-protected", path)
    _put_in_place(target, data, None if there is None else stat.S_IMODE(there.st_mode))


def _state(path: str) -> os.stat_result | None:
    """What is at the path, links followed; None where nothing is, or a link that leads nowhere or in a
    circle.
    """
    try:
        return os.stat(path)
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as wrong:
        if wrong.errno == errno.ELOOP:
            return None
        raise


def _put_in_place(target: str, data: bytes, mode: int | None) -> None:
    """Write beside the target, then take its place; nothing is left behind, whatever interrupts."""
    folder = os.path.dirname(target)
    descriptor, beside = _new_file(folder)
    try:
        with open(descriptor, "wb") as held:
            held.write(data)
            held.flush()
            os.fsync(held.fileno())
        if mode is not None:
            os.chmod(beside, mode)
        os.replace(beside, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(beside)
        raise
    _settle(folder)


def _new_file(folder: str) -> tuple[int, str]:
    """A file that nobody else has, opened for writing: with the permissions that any new file of this user
    gets.
    """
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
    for number in range(_NAMES):
        name = os.path.join(folder, f".makegood-{os.getpid()}-{number}.part")
        with contextlib.suppress(FileExistsError):
            return os.open(name, flags, 0o666), name
    raise OSError(errno.EEXIST, "too many half-written files", folder)


def _settle(folder: str) -> None:
    """Force the new name to the disk too, where the system knows how; the file is whole either way."""
    if os.name == "posix":
        with contextlib.suppress(OSError):
            descriptor = os.open(folder, os.O_RDONLY)
            try:
                os.fsync(descriptor)
            finally:
                os.close(descriptor)


def _trouble(wrong: OSError | ValueError, path: str) -> Trouble:
    """The reason in plain words."""
    number = wrong.errno if isinstance(wrong, OSError) else None
    folder = os.path.dirname(path) or os.curdir
    if number == errno.EISDIR:
        return Trouble(
            "is-a-folder", f"{path} is a folder, not a file", advice=("give the file a name of its own",)
        )
    if number in _FORBIDDEN:
        advice = "it may be write-protected, or open in another program"
        return Trouble("no-permission", f"{path} may not be written here", advice=(advice,))
    if number in _FULL:
        advice = "make room and run again; a file that was there before is untouched"
        return Trouble("disk-full", f"there is no room left on the disk for {path}", advice=(advice,))
    if number in (errno.ENOENT, errno.ENOTDIR) or not os.path.isdir(folder):
        return Trouble("folder-missing", f"there is no folder {folder}", advice=("make the folder first",))
    why = (wrong.strerror if isinstance(wrong, OSError) else None) or "the name can't be one of a file"
    return Trouble("cannot-write", f"'{path}' could not be written: {why.lower()}")
