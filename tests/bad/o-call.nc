(subprogram)
G21
G90
O100
M2
