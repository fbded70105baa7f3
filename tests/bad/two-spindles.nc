(group-twice)
G21
M3 M5
M2
