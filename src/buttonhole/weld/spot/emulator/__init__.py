"""The emulator: small nets that say at once about what the solver would say, and when not to ask.

``./go bench train_emulator`` teaches them; ``about.toml`` and the page in ``docs/validation`` tell
how wrong they are.
"""

from buttonhole.weld.spot.emulator.at_once import QuickWeld, QuickWindow, quick, quick_window

__all__ = ["QuickWeld", "QuickWindow", "quick", "quick_window"]
