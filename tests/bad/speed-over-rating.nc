(speed-over-rating)
G21
S5200
M2
