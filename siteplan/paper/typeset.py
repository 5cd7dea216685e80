"""Sets pages and pictures by typst: offline, with the fonts that come with the program.

What a person wrote goes in as JSON text and is never read as markup. Templates lie in
`resources/paper/`; nothing outside that folder can be read while setting.
"""

import datetime as dt
import json
import re
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Literal

import typst

from siteplan.assets import resource
from siteplan.errors import OutOfRangeError, SiteplanError
from siteplan.paper.sheet import Sheet

Standard = Literal["ua-1", "a-2a"]
_PICTURE = """#set page(width: {width}mm, height: {height}mm, margin: 0pt)
#image(bytes(sys.inputs.svg), format: "svg", width: 100%)
"""
_MM_PER_IN = 25.4
LARGEST_PIXELS = 12_000
LEAST_DPI, MOST_DPI = 36, 1200


class SettingError(SiteplanError):
    """A page that cannot be set."""


def pdf(
    template: str,
    data: Mapping[str, object],
    pictures: Mapping[str, str],
    standards: Sequence[Standard] = (),
    when: dt.datetime | None = None,
) -> bytes:
    """Return a PDF set from a template.

    Parameters
    ----------
    template : str
        Name of a file in `resources/paper/`, without its ending.
    data : mapping
        Plain data for the template, as JSON can hold it.
    pictures : mapping of str to str
        SVG texts by name.
    standards : sequence of str
        "ua-1" for PDF/UA-1 (ISO 14289-1), "a-2a" for PDF/A-2a (ISO 19005-2); tags are
        written in any case. That the file keeps them is checked by typst, not certified.
    when : datetime or None
        The time written into the file.

    Raises
    ------
    SettingError
        If the page cannot be set.
    """
    folder = resource("paper")
    inputs = {"data": shown(json.dumps(data, ensure_ascii=False, allow_nan=False))}
    inputs |= {f"picture-{name}": shown(text) for name, text in pictures.items()}
    try:
        compiler = typst.Compiler(
            str(folder / f"{template}.typ"),
            root=str(folder),
            font_paths=_fonts(),
            ignore_system_fonts=True,
            sys_inputs=inputs,
        )
        made = compiler.compile(format="pdf", pdf_standards=list(standards), timestamp=when)
    except typst.TypstError as error:
        raise SettingError("the page cannot be set ({why})", why=error.message) from error
    return _one(made)


def png(sheet: Sheet, pixels_per_inch: float = 200.0) -> bytes:
    """Return a drawn sheet as a PNG picture.

    Parameters
    ----------
    sheet : Sheet
        What to show.
    pixels_per_inch : float
        36 to 1200; neither side may have over 12 000 pixels.

    Raises
    ------
    OutOfRangeError
        If the resolution is out of range.
    SettingError
        If the picture would be too large or cannot be made.
    """
    width, height = sheet.size_mm
    if not LEAST_DPI <= pixels_per_inch <= MOST_DPI:
        raise OutOfRangeError("resolution [1/in]", pixels_per_inch, LEAST_DPI, MOST_DPI)
    if max(width, height) / _MM_PER_IN * pixels_per_inch > LARGEST_PIXELS:
        most = str(LARGEST_PIXELS)
        raise SettingError("the picture would have over {most} pixels on a side", most=most)
    source = _PICTURE.format(width=width, height=height).encode("ascii")
    try:
        made = typst.Compiler(
            source,
            font_paths=_fonts(),
            ignore_system_fonts=True,
            sys_inputs={"svg": shown(sheet.svg)},
        ).compile(format="png", ppi=pixels_per_inch)
    except typst.TypstError as error:
        raise SettingError("the picture cannot be made ({why})", why=error.message) from error
    return _one(made)


def shown(text: str) -> str:
    """Return the text with a box in place of each sign that the bundled fonts lack."""
    return _lacking().sub("□", text)


def _one(made: bytes | list[bytes] | None) -> bytes:
    if not isinstance(made, bytes):
        msg = "the picture runs over more than one page"
        raise SettingError(msg)
    return made


@cache
def _lacking() -> "re.Pattern[str]":
    ranges = json.loads(resource("paper/fonts/coverage.json").read_text(encoding="ascii"))
    kept = "".join(f"{re.escape(chr(low))}-{re.escape(chr(high))}" for low, high in ranges)
    return re.compile(f"[^\n\t{kept}]")


@cache
def _fonts() -> typst.Fonts:
    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[str(resource("paper/fonts"))],
    )
