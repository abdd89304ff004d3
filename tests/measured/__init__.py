"""A second measurement of a written week: from the data files and the week's JSON, without the planner.

Nothing that measures imports the program. Catalogue, rules and gym are read by plain PyYAML, or come as plain
dictionaries; what the weeks before did is read from their JSON. Whatever the program's encoders and its audit
share is worked out a second time here, so that a fault in it is seen.
"""
