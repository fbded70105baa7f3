(checksum)
G21
G90
G0 X1.*71
M2
