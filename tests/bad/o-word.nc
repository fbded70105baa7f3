(subprogram)
G21
O100 sub
M2
