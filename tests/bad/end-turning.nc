(end-while-turning)
G21
S4000
M3
M2
