(speed-missing)
G21
S0
M3
M5
M2
