"""Motors: full-load and locked-rotor current, code letters, watts by type of motor."""

import math
from typing import Literal

from siteplan.errors import OutOfRangeError
from siteplan.power._checks import within
from siteplan.power.cords import LOCKED_ROTOR_FACTOR

MotorType = Literal["universal", "repulsion-induction", "capacitor", "split-phase"]

FULL_LOAD_115V_A = {
    1 / 6: 4.4,
    1 / 4: 5.8,
    1 / 3: 7.2,
    1 / 2: 9.8,
    3 / 4: 13.8,
    1.0: 16.0,
    1.5: 20.0,
    2.0: 24.0,
    3.0: 34.0,
    5.0: 56.0,
}
"""Single-phase full-load current at 115 V [A] by horsepower; half of it at 230 V.

Source: nec-2023-table-430.248 (read second-hand).
"""

LOCKED_ROTOR_115V_A = {
    1 / 2: 58.8,
    3 / 4: 82.8,
    1.0: 96.0,
    1.5: 120.0,
    2.0: 144.0,
    3.0: 204.0,
    5.0: 336.0,
}
"""Single-phase locked-rotor current at 115 V [A] by horsepower; half of it at 230 V.

Source: nec-2023-table-430.251(A) (read second-hand).
"""

CODE_LETTER_KVA_PER_HP: dict[str, tuple[float, float]] = {
    "A": (0.0, 3.14),
    "B": (3.15, 3.54),
    "C": (3.55, 3.99),
    "D": (4.0, 4.49),
    "E": (4.5, 4.99),
    "F": (5.0, 5.59),
    "G": (5.6, 6.29),
    "H": (6.3, 7.09),
    "J": (7.1, 7.99),
    "K": (8.0, 8.99),
    "L": (9.0, 9.99),
    "M": (10.0, 11.19),
    "N": (11.2, 12.49),
    "P": (12.5, 13.99),
    "R": (14.0, 15.99),
    "S": (16.0, 17.99),
    "T": (18.0, 19.99),
    "U": (20.0, 22.39),
    "V": (22.4, math.inf),
}
"""Locked-rotor kVA per horsepower. Source: nec-2023-table-430.7(B) (read second-hand)."""

RUNNING_W_BY_HP = {1 / 8: 275.0, 1 / 4: 400.0, 1 / 3: 450.0, 1 / 2: 600.0, 3 / 4: 850.0}
"""Running watts by horsepower. Source: generator-maker-motor-table (read)."""

STARTING_W_BY_HP: dict[MotorType, dict[float, float]] = {
    "universal": {1 / 8: 400, 1 / 4: 500, 1 / 3: 600, 1 / 2: 750, 3 / 4: 1000},
    "repulsion-induction": {1 / 8: 600, 1 / 4: 850, 1 / 3: 975, 1 / 2: 1300, 3 / 4: 1900},
    "capacitor": {1 / 8: 850, 1 / 4: 1050, 1 / 3: 1350, 1 / 2: 1800, 3 / 4: 2600},
    "split-phase": {1 / 8: 1200, 1 / 4: 1700, 1 / 3: 1950, 1 / 2: 2600},
}
"""Starting watts by type and horsepower. Source: generator-maker-motor-table (read)."""

START_MULTIPLIER_LOW, START_MULTIPLIER_HIGH = 3.0, 6.0
"""Starting over running watts where nothing else is known.

Source: utility-start-multipliers (read): 3, some 5 to 6, others 2 to 7.
"""

_LOW_VOLTS = (110.0, 125.0)
_HIGH_VOLTS = (220.0, 250.0)


def full_load_a(horsepower: float, volts: float = 120.0) -> float:
    """Return a single-phase motor's full-load current [A].

    Parameters
    ----------
    horsepower : float
        1/6, 1/4, 1/3, 1/2, 3/4, 1, 1.5, 2, 3 or 5; between two the larger holds.
    volts : float
        110 to 125, or 220 to 250 [V].

    Raises
    ------
    OutOfRangeError
        Outside these.

    Notes
    -----
    Source: nec-2023-table-430.248 (read second-hand).
    """
    return _by_horsepower(FULL_LOAD_115V_A, horsepower) / _voltage_column(volts)


def locked_rotor_a(horsepower: float, volts: float = 120.0) -> float:
    """Return a single-phase motor's current while starting [A].

    Parameters
    ----------
    horsepower, volts
        As in `full_load_a`.

    Raises
    ------
    OutOfRangeError
        Outside these.

    Notes
    -----
    Source: nec-2023-table-430.251(A) (read second-hand) from 1/2 hp; below, six times the
    full-load current, as in that table (derived).
    """
    if horsepower <= 1 / 3:
        return LOCKED_ROTOR_FACTOR * full_load_a(horsepower, volts)
    return _by_horsepower(LOCKED_ROTOR_115V_A, horsepower) / _voltage_column(volts)


def locked_rotor_kva(code_letter: str, horsepower: float) -> tuple[float, float]:
    """Return the least and greatest starting demand by the nameplate's code letter [kVA].

    Parameters
    ----------
    code_letter : str
        A to V, without I, O and Q. V has no upper end: infinity.
    horsepower : float
        0.05 to 10.

    Raises
    ------
    OutOfRangeError
        Outside these.

    Notes
    -----
    Source: nec-2023-table-430.7(B) (read second-hand).
    """
    within("motor size [hp]", horsepower, 0.05, 10.0)
    letter = code_letter.strip().upper()
    if letter not in CODE_LETTER_KVA_PER_HP:
        place = float(ord(letter)) if len(letter) == 1 else math.nan
        raise OutOfRangeError("motor code letter (A to V but I, O, Q)", place, ord("A"), ord("V"))
    low, high = CODE_LETTER_KVA_PER_HP[letter]
    return low * horsepower, high * horsepower


def locked_rotor_by_code_a(
    code_letter: str, horsepower: float, volts: float = 120.0
) -> tuple[float, float]:
    """Return the least and greatest starting current by the code letter [A].

    Parameters, errors and source as in `locked_rotor_kva`; single-phase, volts 100 to 600 [V].
    """
    within("voltage [V]", volts, 100.0, 600.0)
    low, high = locked_rotor_kva(code_letter, horsepower)
    return 1000.0 * low / volts, 1000.0 * high / volts


def _by_horsepower(table: dict[float, float], horsepower: float) -> float:
    within("motor size [hp]", horsepower, 0.05, max(table))
    return next(amps for size, amps in table.items() if horsepower <= size * (1.0 + 1e-9))


def _voltage_column(volts: float) -> float:
    if _LOW_VOLTS[0] <= volts <= _LOW_VOLTS[1]:
        return 1.0
    within("motor voltage [V], if not 110 to 125", volts, *_HIGH_VOLTS)
    return 2.0
