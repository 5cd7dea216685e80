"""What the geometry says when it refuses a number: people read it, so it is held word by word."""

import re

import pytest

from siteplan.errors import SiteplanError
from siteplan.geometry.shapes import on_wall
from siteplan.geometry.survey import azimuth_deg, traverse
from siteplan.geometry.ties import place_from_tapes, setting_out

WALL = ((0.0, 0.0), (4.0, 0.0))
REFUSED = {
    "azimuth [°] is 361; allowed is 0 to 360": lambda: azimuth_deg(361.0),
    "angle of 'N 90 30 E' [°] is 90.5; allowed is 0 to 90": lambda: azimuth_deg("N 90 30 E"),
    "angle of '400' [°] is 400; allowed is 0 to 360": lambda: azimuth_deg("400"),
    "a traverse needs at least one leg": lambda: traverse([]),
    "length of a leg [m] is 0; allowed is 0 to 100000": lambda: traverse([(10.0, 0.0)]),
    "offset [m] is 5; allowed is 0 to 4": lambda: on_wall(*WALL, 5.0, 0.5),
    "offset and width [m] is 4.5; allowed is 0 to 4": lambda: on_wall(*WALL, 3.5, 1.0),
    "width [m] is -1; allowed is 0 to 4": lambda: on_wall(*WALL, 2.0, -1.0),
    "a place needs tapes from two different corners at least": lambda: place_from_tapes(
        [(0.0, 0.0)], [5.0]
    ),
    "tape [m] is 0; allowed is 0 to 1000": lambda: place_from_tapes(WALL, [0.0, 5.0]),
    "no two fixed corners within reach of the tape fix this place": lambda: setting_out(
        (100.0, 0.0), WALL, 0.02
    ),
}


@pytest.mark.parametrize("sentence", REFUSED)
def test_a_refusal_says_what_was_given_and_what_is_allowed(sentence):
    with pytest.raises(SiteplanError, match=rf"^{re.escape(sentence)}$"):
        REFUSED[sentence]()
