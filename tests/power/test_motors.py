import itertools
import math

import pytest

from siteplan.errors import OutOfRangeError
from siteplan.power import motors


def test_a_size_between_two_rows_takes_the_larger():
    assert motors.full_load_a(0.4) == motors.full_load_a(0.5)
    # NEC 2023 Table 430.248, second-hand: 1 hp 16 A, 1 1/2 hp 20 A at 115 V
    assert (motors.full_load_a(1.0), motors.full_load_a(1.001)) == (16, 20)
    assert motors.locked_rotor_a(0.6) == motors.locked_rotor_a(0.75)


@pytest.mark.parametrize("horsepower", [1 / 6, 1 / 4, 1 / 3])
def test_small_motors_start_at_six_times_their_current(horsepower):
    expected = 6 * motors.full_load_a(horsepower)
    assert motors.locked_rotor_a(horsepower) == pytest.approx(expected)


def test_currents_grow_with_size():
    sizes = sorted(motors.FULL_LOAD_115V_A)
    for current in (motors.full_load_a, motors.locked_rotor_a):
        found = [current(size) for size in sizes]
        assert found == sorted(found)


@pytest.mark.parametrize("volts", [110, 115, 120, 125])
def test_twice_the_voltage_halves_the_current(volts):
    assert motors.full_load_a(1, 2 * volts) == motors.full_load_a(1, volts) / 2


def test_code_letters_follow_each_other_without_overlap():
    rows = list(motors.CODE_LETTER_KVA_PER_HP.values())
    for (low, high), (next_low, _) in itertools.pairwise(rows):
        assert low < high < next_low
        assert next_low - high == pytest.approx(0.01)


def test_code_letters_may_be_written_small():
    assert motors.locked_rotor_kva(" l ", 0.5) == motors.locked_rotor_kva("L", 0.5)


def test_the_last_code_letter_has_no_upper_end():
    assert motors.locked_rotor_kva("V", 1) == (22.4, math.inf)


@pytest.mark.parametrize("letter", ["I", "O", "Q", "W", "", "AB", "5"])
def test_letters_that_are_no_code_are_refused(letter):
    with pytest.raises(OutOfRangeError, match="code letter"):
        motors.locked_rotor_kva(letter, 1)


@pytest.mark.parametrize("horsepower", [0.0, -1.0, 10.1, math.nan])
def test_sizes_beyond_the_tables_are_refused(horsepower):
    for call in (
        lambda: motors.full_load_a(horsepower),
        lambda: motors.locked_rotor_a(horsepower),
        lambda: motors.locked_rotor_kva("L", horsepower),
    ):
        with pytest.raises(OutOfRangeError, match="motor size"):
            call()


@pytest.mark.parametrize("volts", [109.9, 125.1, 219.9, 250.1, math.nan])
def test_voltages_between_the_columns_are_refused(volts):
    with pytest.raises(OutOfRangeError, match="voltage"):
        motors.full_load_a(1, volts)


@pytest.mark.parametrize("volts", [99.0, 601.0])
def test_voltages_beyond_are_refused_with_a_code_letter(volts):
    with pytest.raises(OutOfRangeError, match="voltage"):
        motors.locked_rotor_by_code_a("L", 1, volts)


def test_every_type_starts_above_its_running_watts():
    for table in motors.STARTING_W_BY_HP.values():
        for size, start in table.items():
            assert start > motors.RUNNING_W_BY_HP[size]
