(number-negative)
G21
G90
G1 X50. F-5
M2
