(text-unreadable)
G21
G90 % G0
M2
