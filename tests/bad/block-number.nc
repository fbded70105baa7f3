(block-number-bad)
N1234567 G21
M2
