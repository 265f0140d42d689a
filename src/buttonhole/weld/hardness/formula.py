"""Published formulas for the hardness of a heat-affected zone, each as it stands.

They were fitted to arc welds that cool from 800 to 500 degC within one to some tens of seconds.
Which one counts, and where none does, is said in ``peak``.
"""

import math
from collections.abc import Callable, Mapping

from buttonhole.weld.hardness.carbon_equivalent import carbon_equivalent

Content = Mapping[str, float]

PLAIN_CARBON = 0.3  # wt%; Yurioka counts carbon over it a sixth
BORON_FULL, BORON_EACH = 4.0, 0.03  # ppm from which boron counts fully, -/ppm; yurioka-1987, read


def _of(content: Content, **shares: float) -> float:
    return sum(share * content.get(element, 0.0) for element, share in shares.items())


def boron_term(content: Content) -> float:
    """How much boron adds to Yurioka's equivalent: 0 to 0.09, less with nitrogen.

    Parameters
    ----------
    content : mapping of str to float
        Content by element [wt%].

    Returns
    -------
    float
        [wt%].

    Sources
    -------
    yurioka-1987 (read)
    """
    ppm = 1e4 * content.get("B", 0.0)
    free = max(0.0, (0.02 - content.get("N", 0.0)) / 0.02)
    return BORON_EACH * min(max(ppm - 1.0, 0.0), BORON_FULL - 1.0) * free


def _counted_carbon(content: Content) -> float:
    carbon = content.get("C", 0.0)
    return carbon if carbon <= PLAIN_CARBON else carbon / 6.0 + 0.25


def martensite_time(content: Content) -> float:
    """Longest time from 800 to 500 degC that still makes all martensite.

    Parameters
    ----------
    content : mapping of str to float
        Content by element [wt%].

    Returns
    -------
    float
        [s].

    Sources
    -------
    yurioka-1987 (from memory)
    """
    chromium = content.get("Cr", 0.0)
    equivalent = (
        _counted_carbon(content)
        + _of(content, Si=1 / 24, Mn=1 / 6, Cu=1 / 15, Ni=1 / 12, Mo=1 / 4)
        + chromium * (1.0 - 0.16 * math.sqrt(chromium)) / 8.0
        + boron_term(content)
    )
    return math.exp(10.6 * equivalent - 4.8)


def bainite_time(content: Content) -> float:
    """Shortest time from 800 to 500 degC that leaves no martensite.

    Parameters
    ----------
    content : mapping of str to float
        Content by element [wt%].

    Returns
    -------
    float
        [s].

    Sources
    -------
    yurioka-1987 (from memory)
    """
    equivalent = _counted_carbon(content) + _of(
        content, Mn=1 / 3.6, Cu=1 / 20, Ni=1 / 9, Cr=1 / 5, Mo=1 / 4
    )
    return math.exp(6.2 * equivalent + 0.74)


def martensite_yurioka(content: Content) -> float:
    """Hardness of all martensite [HV], from carbon alone; yurioka-1987 (from memory)."""
    carbon = content.get("C", 0.0)
    return 884.0 * carbon * (1.0 - 0.3 * carbon**2) + 294.0


def bainite_yurioka(content: Content) -> float:
    """Hardness without martensite [HV]; yurioka-1987 (from memory)."""
    equivalent = _of(
        content, C=1.0, Si=1 / 24, Mn=1 / 5, Cu=1 / 10, Ni=1 / 18, Cr=1 / 5, Mo=1 / 2.5, V=1 / 5,
        Nb=1 / 3,
    )  # fmt: skip
    return 145.0 + 130.0 * math.tanh(2.65 * equivalent - 0.69)


def yurioka(content: Content, cooling: float) -> float:
    """Hardness of the zone beside the melt by Yurioka.

    Parameters
    ----------
    content : mapping of str to float
        Content by element [wt%].
    cooling : float
        Time from 800 to 500 degC [s].

    Returns
    -------
    float
        Vickers hardness [HV].

    Sources
    -------
    yurioka-1987 (form read, coefficients from memory)
    """
    hard, soft = martensite_yurioka(content), bainite_yurioka(content)
    first, last = martensite_time(content), bainite_time(content)
    x = 4.0 * math.log(cooling / first) / math.log(last / first) - 2.0
    return 0.5 * (hard + soft) - (hard - soft) / 2.2 * math.atan(x)


def martensite_duren(content: Content) -> float:
    """Hardness of all martensite [HV], from carbon alone; duren-1985 (from memory)."""
    return 802.0 * content.get("C", 0.0) + 305.0


def duren(content: Content, cooling: float) -> float:
    """Hardness of the zone beside the melt by Düren, between his martensite and his bainite.

    Parameters
    ----------
    content : mapping of str to float
        Content by element [wt%].
    cooling : float
        Time from 800 to 500 degC [s].

    Returns
    -------
    float
        Vickers hardness [HV].

    Sources
    -------
    duren-1985 (from memory)
    """
    equivalent = _of(
        content, C=1.0, Si=1 / 11, Mn=1 / 8, Cu=1 / 9, Cr=1 / 5, Ni=1 / 17, Mo=1 / 6, V=1 / 3
    )
    carbon, decades = content.get("C", 0.0), math.log10(cooling)
    mixed = 2019.0 * (carbon * (1.0 - 0.5 * decades) + 0.3 * (equivalent - carbon))
    mixed += 66.0 * (1.0 - 0.8 * decades)
    soft = 350.0 * equivalent + 101.0
    return min(max(mixed, soft), max(martensite_duren(content), soft))


def martensite_suzuki(content: Content) -> float:
    """Hardness at the shortest times [HV], from carbon alone; suzuki-1985 (from memory)."""
    return 884.0 * content.get("C", 0.0) + 287.0


def suzuki(content: Content, cooling: float) -> float:
    """Hardness of the zone beside the melt by BL70S.

    Parameters
    ----------
    content : mapping of str to float
        Content by element [wt%]; not for steel low in carbon and alloy.
    cooling : float
        Time from 800 to 500 degC [s].

    Returns
    -------
    float
        Vickers hardness [HV].

    Sources
    -------
    suzuki-1985 (form and scope read, coefficients from memory)
    """
    carbon, pcm = content.get("C", 0.0), carbon_equivalent(content, "Pcm")
    height = 237.0 + 1633.0 * carbon - 1157.0 * pcm
    steep = (566.0 + 5532.0 * carbon - 2880.0 * pcm) / height
    middle = -0.03 - 6.00 * carbon + 7.77 * pcm
    floor = martensite_suzuki(content) - height
    return floor + height / (1.0 + math.exp(steep * (math.log10(cooling) - middle)))


def maynier(content: Content, rate: float) -> tuple[float, float, float]:
    """Hardness of the three structures by Maynier, at a cooling rate.

    Parameters
    ----------
    content : mapping of str to float
        Content by element [wt%].
    rate : float
        Of cooling at 700 degC [K/s].

    Returns
    -------
    tuple of float
        Martensite, bainite, ferrite with pearlite [HV].

    Sources
    -------
    maynier-1978 (read as quoted; one copy prints 211 for 21, and the rate is per hour)
    """
    decades = math.log10(rate * 3600.0)
    hard = 127.0 + _of(content, C=949.0, Si=27.0, Mn=11.0, Ni=8.0, Cr=16.0) + 21.0 * decades
    middle = -323.0 + _of(content, C=185.0, Si=330.0, Mn=153.0, Ni=65.0, Cr=144.0, Mo=191.0)
    slope = 89.0 + _of(content, C=53.0, Si=-55.0, Mn=-22.0, Ni=-10.0, Cr=-20.0, Mo=-33.0)
    soft = 42.0 + _of(content, C=223.0, Si=53.0, Mn=30.0, Ni=12.6, Cr=7.0, Mo=19.0)
    flat = 10.0 + _of(content, Si=-19.0, Ni=4.0, Cr=8.0, V=130.0)
    return hard, middle + slope * decades, soft + flat * decades


# By name, with the key of the bibliography: hardness after a cooling time, and of all martensite
AFTER_COOLING: Mapping[str, tuple[Callable[[Content, float], float], str]] = {
    "Yurioka 1987": (yurioka, "yurioka-1987"),
    "Düren": (duren, "duren-1985"),
    "BL70S": (suzuki, "suzuki-1985"),
}
OF_MARTENSITE: Mapping[str, tuple[Callable[[Content], float], str]] = {
    "Yurioka 1987": (martensite_yurioka, "yurioka-1987"),
    "Düren": (martensite_duren, "duren-1985"),
    "BL70S": (martensite_suzuki, "suzuki-1985"),
}
