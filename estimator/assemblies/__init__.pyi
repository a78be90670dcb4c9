from .assembly import (
    Assembly as Assembly, AssemblyInput as AssemblyInput, AssemblyLine as AssemblyLine,
)
from .catalogue import Catalogue as Catalogue, assembly_named as assembly_named
from .cautions import Caution as Caution
from .markups import (
    Markup as Markup, MarkupAmount as MarkupAmount, markup_amounts as markup_amounts,
)
from .needs import (
    LineNeed as LineNeed, crew_lines as crew_lines, line_need as line_need,
    worked_out as worked_out,
)
from .ordering import (
    Order as Order, order_of as order_of, ordered_together as ordered_together,
)
from .tables import (
    Tables as Tables, load_tables as load_tables, unused_resources as unused_resources,
)
from .trade_check import trade_doubts as trade_doubts
