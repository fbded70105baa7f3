(outside-travel)
G21
G90
G0 X171. Y0.
G0 Z40.
M2
