"""What a flexible cord carries: ampacity columns, counted conductors, heat and bundling."""

from siteplan.power._checks import listed, within

AMPACITY_A: dict[int, tuple[float, float]] = {
    18: (7.0, 10.0),
    17: (9.0, 12.0),
    16: (10.0, 13.0),
    14: (15.0, 18.0),
    12: (20.0, 25.0),
    10: (25.0, 30.0),
    8: (35.0, 40.0),
    6: (45.0, 55.0),
    4: (60.0, 70.0),
}
"""Column A (three loaded conductors) and column B (two) at 30 °C [A].

Source: nec-2023-table-400.5(A)(1) (read second-hand).
"""

_BUNDLING = ((3, 1.0), (6, 0.80), (9, 0.70), (20, 0.50), (30, 0.45), (40, 0.40))
_BUNDLING_BEYOND = 0.35
_MOST_CONDUCTORS = 100

_AMBIENT_FACTORS: dict[int, tuple[tuple[float, float], ...]] = {
    60: ((25, 1.08), (30, 1.00), (35, 0.91), (40, 0.82), (45, 0.71), (50, 0.58), (55, 0.41)),
    90: ((30, 1.00), (35, 0.96), (40, 0.91), (45, 0.87), (50, 0.82), (55, 0.76)),
}


def loaded_conductors(
    legs: int, neutral: bool, *, count_neutral: bool = False, wye: bool = False
) -> int:
    """Return how many conductors of one cord count as current-carrying.

    Parameters
    ----------
    legs : int
        Ungrounded conductors, 1 or 2.
    neutral : bool
        Whether the cord has a neutral in use; one leg needs one.
    count_neutral : bool
        Two 120 V legs that feed mainly electronics: the neutral may run hot, and the cautious
        reading counts it (common practice, no source).
    wye : bool
        Two legs of a 208Y/120 system, where the neutral always counts.

    Raises
    ------
    OutOfRangeError
        If no current could flow.

    Notes
    -----
    The equipment ground never counts; a neutral that carries only the unbalance of its own
    two legs need not. Source: nec-2023-400.5(A) and the notes of its tables (read second-hand).
    """
    within("ungrounded conductors", legs, 1 if neutral else 2, 2)
    if legs == 1:
        return 2
    return 3 if neutral and (count_neutral or wye) else 2


def bundling_factor(conductors: int) -> float:
    """Return the share of column A that remains with many loaded conductors together.

    Parameters
    ----------
    conductors : int
        Loaded conductors in one cord or bundle, 1 to 100.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    Source: nec-2023-table-400.5(A)(3) (read).
    """
    within("loaded conductors", conductors, 1, _MOST_CONDUCTORS)
    for most, factor in _BUNDLING:
        if conductors <= most:
            return factor
    return _BUNDLING_BEYOND


def ambient_factor(ambient_c: float, insulation_c: int = 60) -> float:
    """Return the ampacity factor for the air temperature.

    Parameters
    ----------
    ambient_c : float
        Air temperature [°C], -50 to 55; between two rows the hotter row holds.
    insulation_c : int
        Temperature rating: 60 (any cord not marked otherwise) or 90.

    Raises
    ------
    OutOfRangeError
        Outside these.

    Notes
    -----
    Source: nec-2023-table-310.15(B)(1)(1) by 400.5(A) (read second-hand). Rows below the
    first one read are not credited: colder air keeps that row's factor.
    """
    listed("insulation rating [°C]", insulation_c, _AMBIENT_FACTORS)
    rows = _AMBIENT_FACTORS[insulation_c]
    within("air temperature [°C]", ambient_c, -50.0, rows[-1][0])
    return next(factor for up_to, factor in rows if ambient_c <= up_to)


def cord_ampacity_a(
    gauge_awg: int, loaded_conductors: int, ambient_c: float = 30.0, insulation_c: int = 60
) -> float:
    """Return the current a flexible cord may carry [A].

    Parameters
    ----------
    gauge_awg : int
        18, 17, 16, 14, 12, 10, 8, 6 or 4.
    loaded_conductors : int
        As counted by `loaded_conductors`: 2 takes column B, 3 column A, more a share of A.
    ambient_c : float
        Air temperature [°C], -50 to 55. Above 30 °C the cord carries less; below, no more.
    insulation_c : int
        60, or 90 where the cord is marked so.

    Raises
    ------
    OutOfRangeError
        For a size not listed or outside these ranges.

    Notes
    -----
    Sources: nec-2023-table-400.5(A)(1), nec-2023-table-400.5(A)(3) (read second-hand).
    A cord left coiled carries less; there is no published figure for it here.
    """
    listed("cord gauge [AWG]", gauge_awg, AMPACITY_A)
    within("loaded conductors", loaded_conductors, 2, _MOST_CONDUCTORS)
    column_a, column_b = AMPACITY_A[gauge_awg]
    many = column_a * bundling_factor(loaded_conductors)
    base = column_b if loaded_conductors == 2 else many
    return base * min(1.0, ambient_factor(ambient_c, insulation_c))
