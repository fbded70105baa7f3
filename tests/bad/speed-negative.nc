(number-negative)
G21
S-5
M2
