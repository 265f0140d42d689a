"""A designation as printed on the job, taken apart: steel, coating, surface; never a guess."""

import re
from dataclasses import dataclass, replace

from buttonhole.joint.coating import Coating
from buttonhole.joint.coating_name import EN, JIS, JIS_ELECTROLYTIC, VDA, CoatingName, find_coating
from buttonhole.joint.steel import Steel, find_steel, listed_under, split_standard
from buttonhole.joint.steel_book import entry, is_listed
from buttonhole.units import BadInput

LONGEST = 80  # letters; no designation is longer
COLD_QUALITY = {"A": "surface A: flaws allowed that do no harm", "B": "surface B: for paint"}
COLD_FINISH = {"b": "bright", "g": "semi-bright", "m": "matt", "r": "rough"}
JIS_TEMPER = {"A": "annealed", "S": "standard temper", "8": "1/8 hard", "4": "1/4 hard",
              "2": "1/2 hard", "1": "full hard"}  # fmt: skip
JIS_FINISH = {"D": "dull", "B": "bright"}
_COLD = re.compile(
    r"[\s\-]*(?P<quality>[AB])[\s\-]*(?P<finish>[bgmr])?(?:[\s\-]+(?P<oiled>O))?", re.IGNORECASE
)
_JIS = re.compile(r"[\s\-]*(?P<temper>[AS8421])[\s\-]*(?P<finish>[DB])")
# A standard behind the grade, as on stock lists and labels; it reads the same before it.
_STANDARD_BEHIND = re.compile(
    r"(?P<grade>\S.*?)[\s,;(]+(?P<standard>(?:(?:DIN|BS|NF|UNI)\s*)?EN\s*\d{5}(?:-\d)?"
    r"|VDA\s*239-\d00|JIS\s*G\s*\d{4}|JFS\s*A\s*\d{4}|SAE\s*J\d{3,4})(?::\d{4}(?:\+A\d)?)?"
    r"\s*\)?\s*",
    re.IGNORECASE,
)
_JIS_COATED = re.compile(r"[\s\-]*(?P<a>\d{2,3})/(?P<b>\d{2,3})")
# Grades that are coated by their standard, without saying so at the end of the name.
COATED_BY_NAME = {"JIS G 3302": "Z", "JIS G 3313": "ZE", "JFS A 3011": "GA"}


@dataclass(frozen=True, slots=True)
class Designation:
    """What a designation says: the steel, its coating where it names one, and its surface."""

    text: str
    steel: Steel
    coating: CoatingName | None
    surface: tuple[str, ...]
    uncoated: bool = False  # said to be uncoated


def read_designation(text: str) -> Designation:
    """Take a designation apart.

    Parameters
    ----------
    text : str
        As printed, with or without a standard before or behind it: "HCT600X+Z100MB", "DC04-B-m",
        "VDA 239-100 CR4-GI50/50-U", "SGCC Z12", "JAC270E-45/45", "SPCC-SD",
        "Steel EN 10130-DC04-B-m", "DC04 EN 10130:2006".

    Returns
    -------
    Designation
        Exactly what is printed.

    Raises
    ------
    BadInput
        Some part of it is not understood; the message names near steels and picks none.
    """
    if len(text) > LONGEST:
        return Designation(text, find_steel(text), None, ())  # refuses, in one short line
    steel = listed_under(text)
    if steel is not None:
        return Designation(text, steel, _by_name(steel), ())
    behind = _STANDARD_BEHIND.fullmatch(text)
    if behind is not None and not split_standard(text)[0]:
        return replace(read_designation(f"{behind['standard']} {behind['grade']}"), text=text)
    for read in (_with_plus, _with_space, _with_vda_coating, _with_jis_coating, _with_surface):
        found = read(text)
        if found is not None:
            return found
    return Designation(text, find_steel(text), None, ())


def sheet_as_printed(text: str, coating: Coating) -> tuple[Steel, Coating]:
    """Return steel and coating of a sheet that is described by its name and, perhaps, its coating.

    Parameters
    ----------
    text : str
        Designation as printed; it may name the coating too.
    coating : Coating
        What is said of the coating elsewhere; the unknown one where nothing is.

    Returns
    -------
    tuple of Steel and Coating
        The coating is the one said elsewhere, else the one of the name.

    Raises
    ------
    BadInput
        The name is not understood, or the two name different coatings.
    """
    found = read_designation(text)
    if found.coating is None or found.coating.coating is Coating.UNKNOWN:
        return found.steel, coating
    named = found.coating.coating
    if coating not in (Coating.UNKNOWN, named):
        raise BadInput(
            "coating",
            f"is {coating.value}, but {text.strip()!r} names {named.value} "
            f"({found.coating.meaning}); give the coating that is on the sheet now, and if it is "
            "not that one give the grade alone as the steel",
        )
    return found.steel, named


def _by_name(steel: Steel) -> CoatingName | None:
    system = entry(steel).system if is_listed(steel) else ""
    code = COATED_BY_NAME.get(system)
    return find_coating(code) if code else None


def _with_plus(text: str) -> Designation | None:
    """EN: grade, +, coating; several + may follow each other (+Z100MB+O is not printed)."""
    grade, plus, rest = text.partition("+")
    steel = listed_under(grade) if plus else None
    if steel is None:
        return None
    if re.fullmatch(r"\s*AR\s*|\s*C\d{3}\s*|\s*LC\s*", rest, re.IGNORECASE):
        raise BadInput(
            "steel",
            f"{text!r} is {steel.designation} in a delivery condition that this book does not "
            "hold; its strength is another one",
        )
    coating = find_coating(rest, EN) if not _is_electrolytic(rest) else find_coating(rest)
    return Designation(text, steel, coating, coating.surface)


def _with_space(text: str) -> Designation | None:
    """EN with a space where the + belongs: DX51D Z275; only for a grade of a EN standard."""
    match = re.search(
        r"\s+(?P<coating>(?:ZF|ZA|ZM|AZ|AS|ZE|Z)\s?\d{2,3}(?!\d).*)$", text, re.IGNORECASE
    )
    steel = listed_under(text[: match.start()]) if match else None
    if match is None or steel is None or not entry(steel).system.startswith("EN"):
        return None
    return _with_plus(f"{steel.designation}+{match['coating']}")


def _is_electrolytic(rest: str) -> bool:
    return bool(re.match(r"\s*Z[EN]", rest, re.IGNORECASE))


def _with_vda_coating(text: str) -> Designation | None:
    match = re.search(
        r"[\s\-]+(?P<coating>(?:GI|GA|EG|ZM|AS)\s*\d{2,3}/\d{2,3}.*|UC(?:[\s\-]*(?P<part>[UE]))?)$",
        text,
        re.IGNORECASE,
    )
    if match is None:
        return None
    steel = _of_vda(text[: match.start()])
    if steel is None:
        return None
    if match["coating"].upper().startswith("UC"):
        part = {"U": ("unexposed part",), "E": ("exposed part",)}.get(match["part"] or "", ())
        return Designation(text, steel, None, part, uncoated=True)
    coating = find_coating(match["coating"], VDA)
    return Designation(text, steel, coating, coating.surface)


def _of_vda(grade: str) -> Steel | None:
    """The VDA grade of a name; a coating in the form of VDA 239-100 says which CR4 is meant."""
    standard, rest = split_standard(grade)
    if standard and not standard.upper().startswith("VDA"):
        return None
    for name in (grade, f"VDA 239-100 {rest.strip()}"):
        steel = listed_under(name)
        if steel is not None and entry(steel).system.startswith("VDA"):
            return steel
    return None


def _with_jis_coating(text: str) -> Designation | None:
    """JIS and JFS: SGCC Z12; JAC270E-45/45 with the mass of each side."""
    match = re.search(r"[\s\-]+(?P<code>[ZF]\d{2}|E\d{1,2}(?:/E?\d{1,2})?)$", text, re.IGNORECASE)
    steel = listed_under(text[: match.start()]) if match else None
    if match and steel is not None and entry(steel).system in (JIS, JIS_ELECTROLYTIC):
        coating = find_coating(match["code"], entry(steel).system)
        return Designation(text, steel, coating, ())
    match = re.search(_JIS_COATED.pattern + "$", text)
    steel = listed_under(text[: match.start()]) if match else None
    if match and steel is not None and entry(steel).system == "JFS A 3011":
        coating = find_coating(f"GA{match['a']}/{match['b']}", VDA)
        return Designation(text, steel, coating, ())
    return None


def _with_surface(text: str) -> Designation | None:
    """EN 10130 and EN 10268: surface A or B and finish; JIS G 3141: temper and finish."""
    for cut in range(len(text) - 1, 2, -1):
        steel = listed_under(text[:cut])
        if steel is None:
            continue
        system, rest = entry(steel).system, text[cut:]
        cold = _COLD.fullmatch(rest)
        if cold and system in ("EN 10130", "EN 10268"):
            said = [COLD_QUALITY[cold["quality"].upper()]]
            said += [COLD_FINISH[cold["finish"].lower()]] if cold["finish"] else []
            said += ["oiled"] if cold["oiled"] else []
            return Designation(text, steel, None, tuple(said))
        dull = _JIS.fullmatch(rest.upper())
        if dull and system == "JIS G 3141":
            said = [JIS_TEMPER[dull["temper"]], JIS_FINISH[dull["finish"]]]
            if dull["temper"] not in "AS":
                raise BadInput(
                    "steel",
                    f"{text!r} is {steel.designation} rolled {said[0]}; this book holds it soft "
                    "only, and its strength is another one",
                )
            return Designation(text, steel, None, tuple(said))
        return None
    return None
