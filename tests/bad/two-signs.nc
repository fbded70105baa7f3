(number-malformed)
G21
G90
G0 X--1
M2
