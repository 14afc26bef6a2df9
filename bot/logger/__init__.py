"""Files of data loggers: months of readings at several depths, in whatever columns the logger writes.

text = table.decoded(data)
frame = table.read(text)                  # every cell as text, the file's own columns
columns.guessed(frame)                    # which column is what, to be looked at and set right once by a person
series = readings.read(frame, layout)     # SI, one row a reading; odd rows apart, never dropped in silence
traced.traced(store, person, plot, ...)   # when it was too early, in time or too late to water, and how deep it went
"""
