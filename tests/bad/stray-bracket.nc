(comment-open)
G21
G90) G0 X1.
M2
