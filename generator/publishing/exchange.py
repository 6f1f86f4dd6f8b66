"""Exchange two folders in one step, where the system can."""

from __future__ import annotations

import ctypes
import errno
import os
from pathlib import Path

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
_CANNOT = frozenset({errno.ENOSYS, errno.EINVAL, errno.ENOTSUP})
"""What the system answers where the call, or this way of calling it on this file system, does not exist."""


def exchange(one: Path, other: Path) -> bool:
    """Exchange two folders so that no moment shows neither; return False where the system cannot, and nothing was done.

    Raises
    ------
    OSError
        The system can, and refused: no permission, a mount point, different file systems.
    """
    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except AttributeError:
        return False
    rename.argtypes = [ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_uint]
    rename.restype = ctypes.c_int
    if rename(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0:
        return True
    code = ctypes.get_errno()
    if code in _CANNOT:
        return False
    raise OSError(code, os.strerror(code), str(other))
