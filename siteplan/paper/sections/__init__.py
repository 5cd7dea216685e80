"""One small module per section of a paper, each returning blocks of plain data."""
