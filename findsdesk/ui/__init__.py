"""The window: benches, widgets, scanning, theme. The only layer that knows Qt.

Qt's binding wraps Python's import so that modules may ask for other spellings of its names, and for that reads the
source of every module that is loaded afterwards. We ask for none; the plain import makes the start a third shorter.

What is loaded stays, and looking through it for garbage again and again is a tenth of the start: until the benches
stand (``ui/garbage.py``) Python is asked to look less often than after every 700 new objects. For the same reason the
plain values that are needed before the first painting are named tuples and not frozen dataclasses, which take five
times as long to make.
"""

import builtins
import gc

gc.set_threshold(200_000, 20, 20)

_plain_import = builtins.__import__

import PySide6.QtCore  # noqa: E402, F401

builtins.__import__ = _plain_import
