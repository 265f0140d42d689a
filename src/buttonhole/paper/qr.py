"""The square code that leads from paper to the record."""

from io import BytesIO

import segno

from buttonhole.units import BadInput

LONGEST = 300  # characters; a longer text makes modules too small for a dirty card


def qr_picture(text: str) -> str:
    """Draw a QR code.

    Parameters
    ----------
    text : str
        What a reader should get, at most ``LONGEST`` characters.

    Returns
    -------
    str
        SVG text, black on white with two modules of quiet zone; leave as much free round it.

    Raises
    ------
    BadInput
        If the text is empty or too long.
    """
    if not 0 < len(text) <= LONGEST:
        raise BadInput("qr", f"has {len(text)} characters; give 1 to {LONGEST}")
    out = BytesIO()
    code = segno.make(text, error="m", micro=False)
    # half of the quiet zone; the page leaves the other half free round the code
    code.save(
        out, kind="svg", xmldecl=False, svgclass=None, lineclass=None, light="#ffffff", border=2
    )
    return out.getvalue().decode()
