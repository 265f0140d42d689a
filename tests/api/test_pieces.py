"""The page of pieces: each of them is there, and none can be sent anywhere."""

import pytest


def test_every_piece_is_shown(client):
    page = client.get("/pieces")
    assert page.status_code == 200
    for piece in ("badge", "notice", "readouts", "tile", "with-unit", "flange", "go", "other"):
        assert f'class="{piece}' in page.text or f"{piece} " in page.text, piece
    assert 'method="post" action="/pieces' not in page.text


@pytest.mark.parametrize("language", ["en", "de"])
def test_it_is_said_in_both_languages(client, language):
    found = client.get("/pieces", headers={"Accept-Language": language}).text
    words = {"en": "What the screens are built of", "de": "Woraus die Bildschirme bestehen"}
    assert words[language] in found
