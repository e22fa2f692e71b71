"""Photographs and results that came with a courier file, kept beside the store before its acts are written."""

from __future__ import annotations

import re

from findsdesk.desk.desk import Desk
from findsdesk.desk.photos import SUFFIX_OF
from findsdesk.exchange.courier_files import ArrivedCourier, damaged
from findsdesk.exchange.photo_files import thumbnail_of
from findsdesk.store.photo_folder import RESULT_SUFFIX, PhotoState, keep, keep_result, photo_folder, state_of

_ENDINGS = frozenset({*SUFFIX_OF.values(), RESULT_SUFFIX})


def keep_files(desk: Desk, arrived: ArrivedCourier) -> int:
    """Keep the files of a courier that are not here yet, each proved by its hash; returns how many came.

    Refusals: ``courier_damaged``, ``no_photo_folder``. StoreFault: ``photo_not_kept``.
    """
    came = 0
    for sha256, suffix in arrived.files():
        if not re.fullmatch(r"[0-9a-f]{64}", sha256) or suffix not in _ENDINGS:
            raise damaged(arrived.path)
        folder = photo_folder(desk.store)
        if state_of(folder, sha256, suffix) is PhotoState.SOUND:
            continue
        content = arrived.content(sha256)
        if suffix == RESULT_SUFFIX:
            keep_result(folder, sha256, content)
        else:
            keep(folder, sha256, suffix, content, thumbnail_of(content, sha256[:12]))
        came += 1
    return came
