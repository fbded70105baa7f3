(end-near-work job: bearing-cap-square-8)
G21
G90
G0 X53.3 Y0.
G0 Z6.1
G1 X45. F600
M5
M2
