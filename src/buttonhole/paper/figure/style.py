"""How pictures speak: letter size, units, decimal sign and language."""

from collections.abc import Callable
from dataclasses import dataclass

INCH = 25.4e-3  # m, exact by definition


def as_it_is(words: str) -> str:
    """Leave the words in English."""
    return words


@dataclass(frozen=True, slots=True)
class Style:
    """Letter size in drawing units, how lengths are written, and the translation of the words."""

    lettering: float = 16.0
    system: str = "metric"  # "metric": mm, "inch": in; both are read and written in metres inside
    decimal: str = "."
    say: Callable[[str], str] = as_it_is

    def figure(self, value: float, places: int) -> str:
        """Write a plain number.

        Parameters
        ----------
        value : float
            The number [-].
        places : int
            Decimals shown.

        Returns
        -------
        str
            The number with the decimal sign of the language.
        """
        return f"{value:.{places}f}".replace(".", self.decimal)

    def length(self, value: float, places: int = 2) -> str:
        """Write a length with its unit.

        Parameters
        ----------
        value : float
            Length [m].
        places : int
            Decimals shown in millimetres; inches get one more.

        Returns
        -------
        str
            For example ``5.10 mm``.
        """
        return f"{self.bare_length(value, places)} {self.length_unit}"

    def bare_length(self, value: float, places: int = 2) -> str:
        """Write a length without its unit.

        Parameters
        ----------
        value : float
            Length [m].
        places : int
            Decimals shown in millimetres; inches get one more.

        Returns
        -------
        str
            For example ``5.10``.
        """
        if self.system == "inch":
            return self.figure(value / INCH, places + 1)
        return self.figure(value * 1e3, places)

    @property
    def length_unit(self) -> str:
        """Unit behind a length."""
        return "in" if self.system == "inch" else "mm"

    def current(self, value: float) -> str:
        """Write a current.

        Parameters
        ----------
        value : float
            Current, rms [A].

        Returns
        -------
        str
            For example ``8.5 kA``.
        """
        return f"{self.figure(value / 1e3, 1)} kA"

    def time(self, value: float) -> str:
        """Write a time.

        Parameters
        ----------
        value : float
            Time [s].

        Returns
        -------
        str
            For example ``160 ms``.
        """
        return f"{self.figure(value * 1e3, 0)} ms"
