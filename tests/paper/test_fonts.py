"""The bundled fonts: what they cover, and that their licences are beside them."""

import json

from fontTools.ttLib import TTFont

from siteplan.assets import resource
from siteplan.paper.svg import CAP_HEIGHT


def signs(*names):
    return {
        sign
        for name in names
        for sign in TTFont(resource(f"paper/fonts/{name}.ttf")).getBestCmap()
        if sign >= 32
    }


def test_the_list_of_signs_is_what_both_weights_have():
    regular, bold = (
        signs("OpenSans-Regular", "DejaVuSans"),
        signs("OpenSans-Bold", "DejaVuSans-Bold"),
    )
    rows = json.loads(resource("paper/fonts/coverage.json").read_text(encoding="ascii"))
    listed = {sign for low, high in rows for sign in range(low, high + 1)}
    assert listed == regular & bold


def test_the_height_of_capitals_is_the_fonts_own():
    font = TTFont(resource("paper/fonts/OpenSans-Regular.ttf"))
    assert abs(font["OS/2"].sCapHeight / font["head"].unitsPerEm - CAP_HEIGHT) < 0.001


def test_every_font_has_its_licence_beside_it():
    folder = resource("paper/fonts")
    families = {path.stem.split("-")[0] for path in folder.glob("*.ttf")}
    assert families == {"OpenSans", "DejaVuSans"}
    for family in families:
        (licence,) = folder.glob(f"{family}-LICENSE*.txt")
        assert licence.stat().st_size > 1000
