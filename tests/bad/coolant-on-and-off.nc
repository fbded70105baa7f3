(group-twice)
G21
M8 M9
M2
