(other-work-offset)
G21
G55
M2
