(letter-twice)
G21
G90
G0 X1. X2.
M2
