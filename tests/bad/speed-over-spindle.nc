(speed-outside-spindle)
G21
S6100
M2
