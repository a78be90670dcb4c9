"""How our workbooks are written: pen, look, safe text, and a file that is whole or not there.

May import: errors and charts' palette; knows no estimate and no scope.
"""
