"""From the sound figure in a catalogue to sound power in octave bands."""

from typing import Final, Literal

import numpy as np

from siteplan.sound.checks import Array, numbers
from siteplan.sound.levels import A_WEIGHTS_DB, energy_sum_db

Shape = Literal["mid", "low"]

UNKNOWN_POWER_DBA: Final = 100.0
"""LwA [dB(A)] taken for a set without a figure: 75 dB(A) at 7 m (a proposal of this project)."""

UNSTATED_ALLOWANCE_DB: Final = 3.0
"""Added when the load or the averaging over the sides is not stated (common practice)."""

# A-weighted band level less the A-weighted total [dB], 63 Hz to 8 kHz. No measured spectrum of a
# small petrol set was found: both are ASSUMPTIONS of this project. "mid" suits an open frame
# heard in the open; "low" has more bass, which screens and walls stop least.
_ASSUMED: Final[dict[Shape, tuple[float, ...]]] = {
    "mid": (-20.1, -11.1, -8.1, -7.1, -6.1, -7.1, -10.1, -16.1),
    "low": (-14.0, -7.0, -6.0, -7.0, -8.0, -10.0, -14.0, -20.0),
}


def hemisphere_db(distance_m: float) -> float:
    """Return sound power less mean pressure level [dB] on a hemisphere over a hard plane.

    Parameters
    ----------
    distance_m : float
        Radius of the hemisphere [m], 0.1 to 1000.

    Raises
    ------
    OutOfRangeError
        If the distance is outside that range.

    Notes
    -----
    ``10 lg(2 π r²)``, ISO 3744 over one reflecting plane, from memory.
    """
    radius = float(numbers("rating distance [m]", distance_m, 0.1, 1000.0))
    return float(10.0 * np.log10(2.0 * np.pi * radius**2))


def power_from_rating_dba(
    level_dba: float,
    distance_m: float,
    *,
    full_load: bool = False,
    mean_of_sides: bool = False,
) -> float:
    """Return the sound power LwA [dB(A)] behind a rating such as "72 dB(A) at 7 m".

    A figure taken at part load or on the quiet side is common in catalogues, so 3 dB are added
    unless the rating is stated to be both at full load and a mean over the four sides.

    Parameters
    ----------
    level_dba : float
        The rating [dB(A)], 20 to 130.
    distance_m : float
        Where it was measured [m], 0.1 to 1000.
    full_load, mean_of_sides : bool
        Whether the rating says so.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.
    """
    level = float(numbers("sound rating [dB(A)]", level_dba, 20.0, 130.0))
    allowance = 0.0 if full_load and mean_of_sides else UNSTATED_ALLOWANCE_DB
    return level + hemisphere_db(distance_m) + allowance


def power_dba(
    guaranteed_dba: float | None = None,
    rated_dba: float | None = None,
    distance_m: float | None = None,
    *,
    full_load: bool = False,
    mean_of_sides: bool = False,
) -> tuple[float, bool]:
    """Return the sound power LwA [dB(A)] to reckon with, and whether it is only assumed.

    A guaranteed LwA goes first and is used as it stands: it already holds the maker's
    uncertainty. Without it a rating at a known distance is converted. Without either, the value
    for an unknown set is returned, marked as assumed.

    Parameters
    ----------
    guaranteed_dba : float, optional
        The guaranteed sound power on the machine [dB(A)], 40 to 160.
    rated_dba, distance_m : float, optional
        The level the maker prints [dB(A)], and the distance it holds at [m].
    full_load : bool
        Whether the rating was taken at full load.
    mean_of_sides : bool
        Whether it is the mean of all sides.

    Raises
    ------
    OutOfRangeError
        If a number given is outside its range.
    """
    if guaranteed_dba is not None:
        return float(numbers("guaranteed sound power [dB(A)]", guaranteed_dba, 40.0, 160.0)), False
    if rated_dba is None or distance_m is None:
        return UNKNOWN_POWER_DBA, True
    power = power_from_rating_dba(
        rated_dba, distance_m, full_load=full_load, mean_of_sides=mean_of_sides
    )
    return power, False


def assumed_spectrum_db(total_dba: float, shape: Shape = "mid") -> Array:
    """Return octave band levels [dB], shape (8,), of an assumed spectrum with a given total.

    Parameters
    ----------
    total_dba : float
        A-weighted total [dB(A)].
    shape : {"mid", "low"}
        Which assumption: "mid" in the open, "low" (cautious) behind screens and walls.

    Notes
    -----
    Both shapes are assumptions, not measurements. Over hard ground without screens the choice
    moves the total by less than 0.2 dB up to 50 m; behind a screen it matters.
    """
    weighted = np.array(_ASSUMED[shape])
    return np.asarray(total_dba + weighted - energy_sum_db(weighted) - A_WEIGHTS_DB)
