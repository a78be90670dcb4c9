from .cash_course import (
    CashCourse as CashCourse,
    CashDay as CashDay,
)
from .cash_from_books import (
    cash_plans as cash_plans,
    CashFacts as CashFacts,
    DrawsSoFar as DrawsSoFar,
)
from .cash_json import (
    balance_fields as balance_fields,
    cash_fields as cash_fields,
)
from .cash_plan import (
    CashPlan as CashPlan,
    DrawnToDate as DrawnToDate,
    PendingDraw as PendingDraw,
    PlannedCost as PlannedCost,
    PlannedLine as PlannedLine,
)
from .cash_sentences import (
    half_commitment_sentence as half_commitment_sentence,
    largest_causes as largest_causes,
    left_out_sentences as left_out_sentences,
    peak_sentence as peak_sentence,
    runs_out_sentence as runs_out_sentence,
)
from .cash_ways import (
    CashWay as CashWay,
)
from .change_limits import (
    beyond_limits as beyond_limits,
)
from .credit_dangers import (
    what_endangers as what_endangers,
)
from .credit_entries import (
    answered_costs as answered_costs,
    CreditEntry as CreditEntry,
)
from .credit_from_books import (
    building_facts as building_facts,
    BuildingFacts as BuildingFacts,
    credit_file as credit_file,
    CreditFile as CreditFile,
)
from .credit_json import (
    credit_fields as credit_fields,
)
from .day_counts import (
    days_30_360 as days_30_360,
    days_30_360_end_of_february as days_30_360_end_of_february,
    days_30e_360 as days_30e_360,
    days_actual as days_actual,
    year_fraction as year_fraction,
)
from .draw_backup import (
    attached as attached,
    cut_from as cut_from,
    entry_parts as entry_parts,
    without_reversed as without_reversed,
)
from .draw_checks import (
    check_draw as check_draw,
    notes_on as notes_on,
)
from .draw_day import (
    DrawDay as DrawDay,
)
from .draw_decisions import (
    Cut as Cut,
    Funding as Funding,
    funding_of as funding_of,
    granted as granted,
)
from .draw_from_books import (
    equity_terms as equity_terms,
    held_of_lines as held_of_lines,
)
from .draw_json import (
    draw_fields as draw_fields,
    terms_fields as terms_fields,
)
from .draw_package import (
    claimed_codes as claimed_codes,
    cover_figures as cover_figures,
    CoverFigure as CoverFigure,
    DrawPackage as DrawPackage,
    proof_text as proof_text,
    rows_text as rows_text,
    share_text as share_text,
    split_figures as split_figures,
    waiver_kind as waiver_kind,
)
from .draw_papers import (
    Evidence as Evidence,
    evidence_list as evidence_list,
    Papers as Papers,
    Picture as Picture,
    Waiver as Waiver,
    waiver_list as waiver_list,
)
from .draw_payees import (
    payees_of as payees_of,
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
from .drawings import (
    check_drawing as check_drawing,
    DrawHistory as DrawHistory,
    Drawing as Drawing,
)
from .draws import (
    draw_line as draw_line,
    draw_totals as draw_totals,
    DrawLine as DrawLine,
    DrawTotals as DrawTotals,
    EquityTerms as EquityTerms,
    LineState as LineState,
    owner_part as owner_part,
    totals_disagree as totals_disagree,
)
from .lender_schedule import (
    LenderLine as LenderLine,
    schedule_of_values as schedule_of_values,
    ScheduledLine as ScheduledLine,
    spread_over_lines as spread_over_lines,
)
from .line_states import (
    Beside as Beside,
    beside_lines as beside_lines,
    codes_of_line as codes_of_line,
    Drawable as Drawable,
    drawable_entries as drawable_entries,
    inspected as inspected,
    line_percents as line_percents,
    split_stored as split_stored,
)
from .loan_amendments import (
    check_amendment as check_amendment,
    LoanAmendment as LoanAmendment,
    terms_on as terms_on,
)
from .loan_balance import (
    BalanceLine as BalanceLine,
    LoanBalance as LoanBalance,
    open_costs as open_costs,
    OpenCosts as OpenCosts,
)
from .loan_interest import (
    accrued_interest as accrued_interest,
    BalanceChange as BalanceChange,
    half_commitment_interest as half_commitment_interest,
    MonthInterest as MonthInterest,
    monthly_interest as monthly_interest,
    RateStep as RateStep,
)
from .loan_rules import (
    Rule as Rule,
    rules_of as rules_of,
)
from .loan_schedule import (
    bearing as bearing,
    CodeShare as CodeShare,
    frozen_loan as frozen_loan,
    line_changes as line_changes,
    Loan as Loan,
    LoanLine as LoanLine,
    revised_cents as revised_cents,
)
from .loan_terms import (
    check_terms as check_terms,
    EvidenceRule as EvidenceRule,
    LoanTerms as LoanTerms,
    exact_percent as exact_percent,
)
from .retainage import (
    retainage_held as retainage_held,
    RetainageTerms as RetainageTerms,
)
from .tax_credit import (
    Credit as Credit,
    Expenditure as Expenditure,
    Recapture as Recapture,
    recapture as recapture,
    rehabilitation_credit as rehabilitation_credit,
    StatedBasis as StatedBasis,
    substantial_windows as substantial_windows,
    Window as Window,
)
from .walk_notes import (
    out_of_sight as out_of_sight,
    places_to_look as places_to_look,
)
