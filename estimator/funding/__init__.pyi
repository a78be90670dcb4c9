from .credit_from_books import (
    credit_file as credit_file,
    CreditFile as CreditFile,
)
from .day_counts import (
    days_30_360 as days_30_360,
    days_30_360_end_of_february as days_30_360_end_of_february,
    days_actual as days_actual,
    year_fraction as year_fraction,
)
from .draw_requests import (
    BackupPart as BackupPart,
    CodeProgress as CodeProgress,
    DrawRequest as DrawRequest,
    EvidenceItem as EvidenceItem,
    LeftOut as LeftOut,
    LineChange as LineChange,
    Payee as Payee,
    RequestLine as RequestLine,
    StoredPart as StoredPart,
    WaiverItem as WaiverItem,
)
from .draws import (
    draw_line as draw_line,
    draw_totals as draw_totals,
    DrawLine as DrawLine,
    DrawTotals as DrawTotals,
    EquityTerms as EquityTerms,
    LineState as LineState,
    totals_disagree as totals_disagree,
)
from .lender_schedule import (
    LenderLine as LenderLine,
    schedule_of_values as schedule_of_values,
    ScheduledLine as ScheduledLine,
    spread_over_lines as spread_over_lines,
)
from .loan_interest import (
    accrued_interest as accrued_interest,
    BalanceChange as BalanceChange,
    half_commitment_interest as half_commitment_interest,
    MonthInterest as MonthInterest,
    monthly_interest as monthly_interest,
    RateStep as RateStep,
)
from .loan_terms import (
    check_terms as check_terms,
    EvidenceRule as EvidenceRule,
    LoanTerms as LoanTerms,
    Rule as Rule,
    rules_of as rules_of,
)
from .retainage import (
    retainage_held as retainage_held,
    RetainageTerms as RetainageTerms,
)
from .tax_credit import (
    Credit as Credit,
    Expenditure as Expenditure,
    rehabilitation_credit as rehabilitation_credit,
    substantial_windows as substantial_windows,
    Window as Window,
)
