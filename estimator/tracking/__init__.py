"""What it is costing: budget, ledger, progress, earned value, forecast, rates learned on the job.

Plain functions of budget, rows and dates; nothing reads a clock: `as_of` (happened by) and
`known_on` (entered by) are arguments. May import the floors below; never charts or workbook.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
