"""Seams: lap fillet and butt with backing, welded or brazed.

Importing this is cheap; the compiled kernels are loaded with the first weld.
"""

import os

from buttonhole.weld.kernel_cache import kernel_cache

if "NUMBA_CACHE_DIR" not in os.environ:
    os.environ["NUMBA_CACHE_DIR"] = str(kernel_cache())
