"""Who pays, and when: schedule of values, retainage, draws, interest, the rehabilitation credit.

Plain functions of terms, lines and dates, in whole cents; nothing reads a clock. May import the
floors below; never charts or workbook.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
