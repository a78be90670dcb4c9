"""When: the order of the work, the longest path, and who is there to do it.

Plain functions of activities, links and crews; working time counts from the start of the job, the
working calendar turns it into dates. May import the floors below; never studies or tracking.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
