"""Other languages and other units, put on at the edge; the core knows English and SI only."""

from buttonhole.language.display import ENGLISH, LANGUAGES, Display, Units
from buttonhole.language.figures import shown_figures
from buttonhole.language.speech import Speech, speech

__all__ = ["ENGLISH", "LANGUAGES", "Display", "Speech", "Units", "shown_figures", "speech"]
