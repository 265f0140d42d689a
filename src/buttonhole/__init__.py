"""Predict, test, release and record the welds of vehicle body repair.

The folders stand in the order of the job: ``joint`` (what meets where), ``weld`` (what the heat
does), ``coupon`` (what the vice shows), ``procedure`` (what may be released), ``record`` (what is
kept), ``paper`` (what is handed out), ``desk`` (the steps a person takes), ``web`` and ``cli``.
"""

__version__ = "0.1.0"
