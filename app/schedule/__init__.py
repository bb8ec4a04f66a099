"""The circuit as tables: every wire a row, every part a row, read, typed, filled and pasted.

`wire_values` and `ends` say how one value is read and written, `columns` and its neighbours what
the tables hold, `acts` and `block` make one change of many cells, and none of them knows Qt. The
table, its cells in the making and its keys stand on top (`table`, `cell_edit`, `view`).
"""
