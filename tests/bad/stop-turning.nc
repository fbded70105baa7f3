(stop-while-turning)
G21
S4000
M3
M0
M5
M2
