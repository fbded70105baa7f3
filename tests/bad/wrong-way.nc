(wheel-turns-backward)
G21
S4000 M4
M5
M2
