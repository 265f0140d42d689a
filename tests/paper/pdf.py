"""Reading a finished page back."""

import io
import re

import cv2
import numpy as np
import pypdf


def reader(pdf: bytes) -> pypdf.PdfReader:
    """Open a PDF held in memory."""
    return pypdf.PdfReader(io.BytesIO(pdf), strict=True)


def text(pdf: bytes) -> str:
    """All words of the first page in one line, breaks for long words taken out."""
    found = reader(pdf).pages[0].extract_text().replace("\u200b", "")
    return re.sub(r"\s+", " ", found)


def metadata(pdf: bytes) -> str:
    """The XMP packet as text."""
    root = reader(pdf).trailer["/Root"]
    return root["/Metadata"].get_data().decode()


def structure(pdf: bytes) -> list[tuple[str, str]]:
    """Type and text alternative of every element of the structure tree, in reading order."""
    found: list[tuple[str, str]] = []

    def walk(node: object) -> None:
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            for one in node:
                walk(one)
        elif isinstance(node, dict):
            if "/S" in node:
                found.append((str(node["/S"]), str(node.get("/Alt", ""))))
            if "/K" in node:
                walk(node["/K"])

    walk(reader(pdf).trailer["/Root"]["/StructTreeRoot"])
    return found


def pixels(png: bytes) -> np.ndarray:
    """A preview as grey values, shape (rows, columns)."""
    return cv2.imdecode(np.frombuffer(png, np.uint8), cv2.IMREAD_GRAYSCALE)
