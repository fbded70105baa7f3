(index-while-turning job: crank-bolt-hex-8)
G21
G90
S4200
M3
M11
G0 A10.
M10
M5
M2
