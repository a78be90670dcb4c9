from .errors import Fault as Fault, GroundsillError as GroundsillError, InputFaulty as InputFaulty
from .money import dollars as dollars, money_text as money_text, round_to_cent as round_to_cent
from .opening import (
    SAMPLE_SCOPE as SAMPLE_SCOPE, OpenedScope as OpenedScope, open_scope as open_scope,
    open_tables as open_tables,
)
from .pricing.estimate import Estimate as Estimate
from .pricing.estimate_json import estimate_json as estimate_json
from .pricing.explain import Explanation as Explanation
from .scheduling.dated_estimate import price as price
from .studies.comparison.comparison import Comparison as Comparison, compare as compare
from .studies.comparison.findings import (
    Findings as Findings, Variation as Variation, findings_of as findings_of,
)
from .studies.comparison.sentences import cheapest_sentences as cheapest_sentences
from .studies.difference.compared_estimate import compared_estimate as compared_estimate
from .studies.difference.compared_estimate_json import compared_from_json as compared_from_json
from .studies.difference.estimate_difference import (
    EstimateDifference as EstimateDifference, estimate_difference as estimate_difference,
)
from .studies.risk.job_risk import JobRisk as JobRisk, job_risk as job_risk
from .workbook.comparison_workbook import write_comparison as write_comparison
from .workbook.estimate_workbook import write_estimate as write_estimate
from .workbook.scope.scope_template import write_template as write_template

__version__: str
