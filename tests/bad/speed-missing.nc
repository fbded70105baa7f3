(speed-missing)
G21
M3
M5
M2
