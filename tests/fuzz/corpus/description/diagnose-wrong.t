format = 1
house = {name = "Empty"}
supply = {system = "120/240 split-phase"}
panel = [{name = "Main", spaces = 8}]
