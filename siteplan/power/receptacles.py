"""Receptacles and plugs, what may be plugged in, ground-fault protection, the neutral."""

from functools import cache
from types import MappingProxyType
from typing import Literal, NamedTuple

from siteplan.assets import data_book
from siteplan.power._checks import within

Neutral = Literal["bonded", "floating"]
NeutralMatch = Literal["match", "second-bond", "no-bond"]

CONTINUOUS_SHARE = 0.8
"""Load over 3 hours or more. Source: nec-2023-210.19(A), nec-2023-210.20(A) (read second-hand)."""
LINE_TO_NEUTRAL_V, LINE_TO_LINE_V = 120.0, 240.0
PORTABLE_LIMIT_W = 15_000.0
"""Largest set in the scope of nec-2023-445.20 (read second-hand)."""
OSHA_EXEMPT_LIMIT_W = 5_000.0
"""Largest set exempt by osha-1926.404(b)(1)(ii) (read)."""
GFCI_BUILT_IN_SINCE = 2015
"""Sets made before may use listed cord sets. Source: nec-2023-445.20 (read second-hand)."""

_HIGHEST_RATING_A = 200.0
_HIGHEST_RATING_W = 1_000_000.0


class Receptacle(NamedTuple):
    """A receptacle configuration of NEMA WD 6.

    Attributes
    ----------
    config : str
        Such as "L14-30".
    volts : str
        Rating as marked: "125", "250" or "125/250".
    amps : float
        Rating [A].
    legs, poles, wires : int
        Ungrounded conductors, poles, and wires with the equipment ground.
    locking, neutral, ground : bool
        What it has.
    accepts : tuple of str
        Plugs that enter it.
    known : str
        How the row is known.
    """

    config: str
    volts: str
    amps: float
    legs: int
    poles: int
    wires: int
    locking: bool
    neutral: bool
    ground: bool
    accepts: tuple[str, ...]
    known: str

    @property
    def nominal_v(self) -> float:
        """Voltage between its outermost conductors [V]."""
        return LINE_TO_NEUTRAL_V if self.legs == 1 else LINE_TO_LINE_V

    @property
    def full_va(self) -> float:
        """Voltage by rated current [VA]."""
        return self.nominal_v * self.amps

    @property
    def continuous_va(self) -> float:
        """What may be drawn for three hours or more [VA]."""
        return CONTINUOUS_SHARE * self.full_va

    @property
    def supplies_120_v(self) -> bool:
        """Whether a 120 V load finds its neutral here."""
        return self.neutral

    @property
    def supplies_240_v(self) -> bool:
        """Whether a 240 V load finds both legs here."""
        return self.legs == 2

    @property
    def can_feed_house(self) -> bool:
        """Whether it has both legs, the neutral and the equipment ground.

        One without an equipment ground is obsolete and never for a generator
        (nema-wd-6, read second-hand); one without a neutral cannot supply 120 V circuits.
        """
        return self.legs == 2 and self.neutral and self.ground


@cache
def receptacles() -> MappingProxyType[str, Receptacle]:
    """Return every receptacle known, by its configuration. Source: nema-wd-6 (read second-hand)."""
    rows = data_book("receptacles.toml")["receptacle"]
    book = [Receptacle(**{**row, "accepts": tuple(row["accepts"])}) for row in rows]
    return MappingProxyType({receptacle.config: receptacle for receptacle in book})


def fits(plug: str, receptacle: str) -> bool | None:
    """Return whether a plug enters a receptacle; None if the receptacle is not known.

    Parameters
    ----------
    plug, receptacle : str
        Configurations such as "5-15".
    """
    known = receptacles().get(receptacle)
    return None if known is None else plug in known.accepts


def max_plugged_a(rating_a: float) -> float:
    """Return the largest cord-and-plug load on a receptacle of this rating [A].

    Parameters
    ----------
    rating_a : float
        Receptacle or circuit rating [A], 1 to 200.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    15, 20 and 30 A: nec-2023-table-210.21(B)(2) (read second-hand). Other ratings take the same
    80 % (common practice, no source).
    """
    return CONTINUOUS_SHARE * within("receptacle rating [A]", rating_a, 1.0, _HIGHEST_RATING_A)


def available_a(receptacle: Receptacle, rated_w: float, breaker_a: float | None = None) -> float:
    """Return the current a receptacle really gives: its rating, its breaker, or the machine [A].

    Parameters
    ----------
    receptacle : Receptacle
        As in `receptacles`.
    rated_w : float
        Running power of the machine after derating [W], 1 to 1e6.
    breaker_a : float
        Its breaker [A], 1 to 200; the receptacle's own rating if not known.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    One leg of a 120/240 V machine carries half its power: a 120 V receptacle gives at most that
    on a machine with two legs, which the caller states by passing half of it.
    """
    within("rated power [W]", rated_w, 1.0, _HIGHEST_RATING_W)
    limit_a = receptacle.amps
    if breaker_a is not None:
        limit_a = min(limit_a, within("breaker [A]", breaker_a, 1.0, _HIGHEST_RATING_A))
    return min(limit_a, rated_w / receptacle.nominal_v)


def generator_needs_gfci(
    rated_w: float,
    neutral: Neutral | None,
    *,
    has_125_250_v: bool,
    interlocked: bool = False,
) -> bool | None:
    """Return whether the set's own 125 V 15 and 20 A outlets must have GFCI protection.

    Parameters
    ----------
    rated_w : float
        Rated power [W], 1 to 1e6; the rule stops at 15 kW.
    neutral : str or None
        "bonded" to the frame, "floating", or None if not known.
    has_125_250_v : bool
        Whether the set also has a 125/250 V outlet.
    interlocked : bool
        Whether the 125 V outlets are dead while the 125/250 V outlet is in use.

    Returns
    -------
    bool or None
        None where the neutral decides and is not known.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    Source: nec-2023-445.20(A), (B) (read second-hand).
    """
    within("rated power [W]", rated_w, 1.0, _HIGHEST_RATING_W)
    if rated_w > PORTABLE_LIMIT_W:
        return False
    if neutral == "bonded":
        return True
    if_floating = has_125_250_v and not interlocked
    if neutral == "floating" or if_floating:
        return if_floating
    return None


def gfci_cord_set_will_do(built_year: int) -> bool:
    """Return whether a listed GFCI cord set may stand in for protection on the set.

    Parameters
    ----------
    built_year : int
        Year in which the set was made, 1900 to 2200.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    Source: nec-2023-445.20 (read second-hand).
    """
    return within("year of make", built_year, 1900, 2200) < GFCI_BUILT_IN_SINCE


def work_site_needs_gfci(
    rated_w: float, *, two_wire: bool, single_phase: bool, insulated_from_frame: bool
) -> bool:
    """Return whether 120 V 15 and 20 A outlets of a set on a work site must have GFCI.

    Parameters
    ----------
    rated_w : float
        Rated power [W], 1 to 1e6.
    two_wire, single_phase : bool
        The winding.
    insulated_from_frame : bool
        Conductors insulated from the frame and all other grounded surfaces.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    Source: osha-1926.404(b)(1)(ii) (read).
    """
    within("rated power [W]", rated_w, 1.0, _HIGHEST_RATING_W)
    small = rated_w <= OSHA_EXEMPT_LIMIT_W
    return not (small and two_wire and single_phase and insulated_from_frame)


def ground_rod_needed(*, own_receptacles_only: bool, ground_pins_bonded: bool) -> bool:
    """Return whether a portable set's frame must be connected to an electrode.

    Parameters
    ----------
    own_receptacles_only : bool
        It feeds only what stands on it or is plugged into its own receptacles.
    ground_pins_bonded : bool
        The receptacles' ground contacts are bonded to the frame.

    Notes
    -----
    Sources: nec-2023-250.34(A), osha-1926.404(f)(3)(i) (read).
    """
    return not (own_receptacles_only and ground_pins_bonded)


def neutral_match(set_neutral: Neutral, *, neutral_switched: bool) -> NeutralMatch:
    """Return whether the machine's neutral suits the transfer equipment.

    Parameters
    ----------
    set_neutral : str
        "bonded" to the frame, or "floating".
    neutral_switched : bool
        Whether the transfer equipment opens the neutral too.

    Returns
    -------
    str
        "match"; "second-bond" if the neutral is bonded at machine and service at once (current
        in the ground, ground-fault outlets trip); "no-bond" if it is bonded nowhere while
        transferred.

    Notes
    -----
    Sources: nec-2023-250.30 informational note 1, nec-2023-250.34(C) (read second-hand).
    """
    if neutral_switched:
        return "match" if set_neutral == "bonded" else "no-bond"
    return "match" if set_neutral == "floating" else "second-bond"
