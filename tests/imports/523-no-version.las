~W
STRT.F 1 : S
