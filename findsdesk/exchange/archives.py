"""ZIP archives from outside: what a damaged one makes the libraries say, and one that would unpack without end."""

from __future__ import annotations

import errno
import lzma
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from findsdesk.domain.refusals import Refusal

FAULTS = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    KeyError,
    EOFError,
    ValueError,
    NotImplementedError,
    RuntimeError,
)
"""What is said of an archive that is damaged, locked, or packed in a way that nobody knows."""
HIGHEST_RATIO = 100
RATIO_FREE = 10_000_000
"""Below this unpacked size, in bytes, the ratio does no harm: a small sheet of equal rows packs very well."""


@contextmanager
def whole_or(refusal: Refusal) -> Iterator[None]:
    """Raise a refusal where an archive turns out damaged while it is read; what the disk says passes."""
    try:
        yield
    except FAULTS as fault:
        raise refusal from fault
    except OSError as fault:
        # What cannot be unpacked is called so too, without a number of the system's; a place before the file with one.
        if fault.errno not in (None, errno.EINVAL):
            raise
        raise refusal from fault


def unpacks_without_end(members: Iterable[zipfile.ZipInfo], packed: int) -> bool:
    """Return whether an archive of so many bytes says that it unpacks to far more than it can honestly hold."""
    unpacked = sum(one.file_size for one in members)
    return unpacked > RATIO_FREE and unpacked > HIGHEST_RATIO * max(1, packed)
