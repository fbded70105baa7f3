(code-not-on-control)
G71
G90
M2
