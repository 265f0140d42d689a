"""Our own drawings: pure functions that return SVG text.

Every drawing carries a title and a description in words, is readable in black and white, uses
presentation attributes only (a strict content-security policy needs no exception) and names its
parts by CSS classes, so that a page can give them other colours.
"""
