"""Coupons of plugs, seams, arc brazing and aluminium: read, judged, compared with the joint.

``piece`` says what was joined and what was set, ``fracture`` how it let go, ``imperfection`` what
can be seen on it, ``reading`` what was measured, ``criterion`` what is asked, ``judgement`` how the
manner counts, ``verdict`` what it all means, ``difference`` what is not as on the vehicle.
"""
