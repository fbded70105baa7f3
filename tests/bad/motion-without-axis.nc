(motion-without-axis)
G21
G90
G1 F100
M2
