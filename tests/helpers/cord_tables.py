"""Published tables of cords that more than one check compares with."""

CHARGER_TABLE = {
    # Battery-charger manual section 8.2, cord table, READ: current up to [A]: gauge [AWG] at
    # 25, 50, 100, 150 ft. DERIVED: the thinnest that loses at most 3.501 to 3.663 %
    2: (18, 18, 18, 16),
    3: (18, 18, 16, 14),
    4: (18, 18, 16, 14),
    5: (18, 18, 14, 12),
    8: (18, 16, 12, 10),
    10: (18, 14, 12, 10),
    12: (16, 14, 10, 8),
    18: (14, 12, 8, 8),
    20: (14, 12, 8, 6),
}
