from .attention import (
    Attention as Attention,
    attention_list as attention_list,
    overruns as overruns,
)
from .bank_lines import (
    bank_proposals as bank_proposals,
    BankLine as BankLine,
    BankProposal as BankProposal,
    check_line_days as check_line_days,
    money_logged as money_logged,
    MoneyLogged as MoneyLogged,
    open_bills as open_bills,
    OpenBill as OpenBill,
)
from .bank_terms import (
    BankRule as BankRule,
    BankTerms as BankTerms,
    rule_of as rule_of,
)
from .books import (
    Books as Books,
    known_books as known_books,
    KnownBooks as KnownBooks,
)
from .books_by_day import (
    daily_books as daily_books,
    DailyBooks as DailyBooks,
    hours_by_day as hours_by_day,
)
from .budget import (
    approved_changes as approved_changes,
    Budget as Budget,
    budget_from_estimate as budget_from_estimate,
    BudgetCode as BudgetCode,
    Change as Change,
    ChangePart as ChangePart,
    current_budget as current_budget,
    is_spread as is_spread,
    latest_changes as latest_changes,
    spread_like_baseline as spread_like_baseline,
)
from .closed_weeks import (
    closed_on as closed_on,
    unclosed_hours as unclosed_hours,
    unclosed_sentences as unclosed_sentences,
    week_costs as week_costs,
)
from .code_rests import (
    forecast_of as forecast_of,
    rests_of as rests_of,
)
from .commitments import (
    Commitment as Commitment,
    order_stands as order_stands,
    OrderStand as OrderStand,
    over_billing_sentences as over_billing_sentences,
    still_to_come as still_to_come,
    unknown_order_sentences as unknown_order_sentences,
)
from .credit_papers import (
    Approval as Approval,
    BasisRow as BasisRow,
    check_approval as check_approval,
    check_credit_answer as check_credit_answer,
    CreditAnswer as CreditAnswer,
    standing_approvals as standing_approvals,
)
from .dates_done import (
    all_done as all_done,
    finish_dates as finish_dates,
    FinishDate as FinishDate,
)
from .day_sheets import (
    check_day_sheet as check_day_sheet,
    DaySheet as DaySheet,
    lost_hours as lost_hours,
    LostHours as LostHours,
)
from .delivered_loads import (
    Delivered as Delivered,
    deliveries as deliveries,
)
from .earned_value import (
    earned_cents as earned_cents,
    Index as Index,
    Performance as Performance,
    planned_cents as planned_cents,
)
from .entry_checks import (
    check_code as check_code,
    check_day as check_day,
    note_unit as note_unit,
)
from .forecast import (
    at_budgeted_cost as at_budgeted_cost,
    at_cost_and_schedule_index as at_cost_and_schedule_index,
    at_cost_index as at_cost_index,
    by_both_indexes as by_both_indexes,
    by_cost_index as by_cost_index,
    Observed as Observed,
    Rest as Rest,
    what_is_left as what_is_left,
)
from .forecast_ranges import (
    forecast_range as forecast_range,
    ForecastRange as ForecastRange,
)
from .hold_points import (
    hold_sentence as hold_sentence,
    holding as holding,
    HoldPoint as HoldPoint,
    HoldResult as HoldResult,
    open_holds as open_holds,
)
from .holds_in_calendar import (
    books_calendar as books_calendar,
    hold_days as hold_days,
)
from .job_outlook import (
    AcceptedScope as AcceptedScope,
    cost_and_dates as cost_and_dates,
    CostAndDates as CostAndDates,
    Outlook as Outlook,
    outlook as outlook,
    with_outlook as with_outlook,
)
from .job_record import (
    job_rates as job_rates,
    JobRate as JobRate,
    learned_rows as learned_rows,
    pace_rates as pace_rates,
)
from .job_record_json import (
    figure as figure,
    job_rates_fields as job_rates_fields,
)
from .job_track import (
    Track as Track,
    track as track,
    track_known as track_known,
)
from .job_use import (
    learn_recovery as learn_recovery,
    learn_use as learn_use,
    placed_spans as placed_spans,
    recurring as recurring,
    table_of_use as table_of_use,
)
from .kind_status import (
    kinds_of as kinds_of,
    kinds_together as kinds_together,
    KindStatus as KindStatus,
    performance_by_kind as performance_by_kind,
)
from .learned_inputs import (
    input_tables as input_tables,
    pace_input as pace_input,
)
from .learned_rates import (
    Learned as Learned,
    learned_rate as learned_rate,
    Observation as Observation,
    Proposal as Proposal,
    proposed_rate as proposed_rate,
)
from .learned_use import (
    input_now as input_now,
    input_of_use as input_of_use,
    new_source as new_source,
    scope_sentences as scope_sentences,
    use_defaults as use_defaults,
)
from .ledger_lines import (
    LedgerLine as LedgerLine,
    lines_of as lines_of,
    lines_of_ledger as lines_of_ledger,
    lines_of_rents as lines_of_rents,
    own_lines as own_lines,
    settled_rows as settled_rows,
)
from .ledger_movements import (
    all_movements as all_movements,
    incurred_by_day as incurred_by_day,
    Movement as Movement,
    movements as movements,
    named_rows as named_rows,
    sums_of_movements as sums_of_movements,
)
from .ledger_rows import (
    as_known as as_known,
    Cost as Cost,
    CostSplit as CostSplit,
    Payment as Payment,
    PayrollPart as PayrollPart,
    Receipt as Receipt,
    split_by_amounts as split_by_amounts,
    split_cost as split_cost,
)
from .ledger_sums import (
    Amounts as Amounts,
    amounts_of as amounts_of,
    key_of as key_of,
    LedgerSums as LedgerSums,
    SumKey as SumKey,
    sums_of as sums_of,
)
from .machine_log import (
    check_machine_hours as check_machine_hours,
    machine_times as machine_times,
    MachineHours as MachineHours,
    MachineTime as MachineTime,
    rent_stands as rent_stands,
    RentStand as RentStand,
)
from .machines_on_rent import (
    billed_through as billed_through,
    call_off_sentence as call_off_sentence,
    CalledOff as CalledOff,
    CallOff as CallOff,
    next_call_off as next_call_off,
    OnRent as OnRent,
    rent_accrued_cents as rent_accrued_cents,
    running_rents as running_rents,
    unbilled_rent_cents as unbilled_rent_cents,
)
from .measured_points import (
    limit_sentence as limit_sentence,
    MeasuredPoint as MeasuredPoint,
    point_courses as point_courses,
    PointCourse as PointCourse,
    points_fields as points_fields,
    Reading as Reading,
)
from .money_lines import (
    lines_of_money as lines_of_money,
    MoneyLine as MoneyLine,
)
from .money_lines_json import (
    money_line_fields as money_line_fields,
    months_fields as months_fields,
)
from .monthly_movements import (
    month_ends as month_ends,
    MonthMovement as MonthMovement,
    movements_by_month as movements_by_month,
)
from .outlook_json import (
    outlook_fields as outlook_fields,
)
from .own_stock import (
    over_use_sentences as over_use_sentences,
    Stock as Stock,
    stock as stock,
    StockMove as StockMove,
    unused_cents as unused_cents,
    unused_steps as unused_steps,
)
from .payroll_settings import (
    PaidElsewhere as PaidElsewhere,
    PayrollSettings as PayrollSettings,
    settings_for as settings_for,
)
from .payroll_week import (
    check_hours as check_hours,
    HoursRow as HoursRow,
    PayrollTerms as PayrollTerms,
    person_week as person_week,
    PersonWeek as PersonWeek,
    Worked as Worked,
    workweek_end as workweek_end,
    year_before as year_before,
    YearToDate as YearToDate,
)
from .placed_loads import (
    with_placed as with_placed,
)
from .planned_dates import (
    PlannedDates as PlannedDates,
    with_dates as with_dates,
    with_planned_dates as with_planned_dates,
)
from .posting import (
    check_cost as check_cost,
    check_payment as check_payment,
    paid_notes as paid_notes,
    reversal_of as reversal_of,
)
from .printed_day_sheet import (
    day_sheet_page as day_sheet_page,
    DayPlan as DayPlan,
    plan_of_day as plan_of_day,
)
from .progress import (
    in_place as in_place,
    InPlace as InPlace,
    measured_last as measured_last,
    percent_of_sum as percent_of_sum,
    Progress as Progress,
)
from .quantities import (
    measures_of as measures_of,
    quantities_fields as quantities_fields,
    quantities_in_place as quantities_in_place,
    QuantityInPlace as QuantityInPlace,
    row_without_sum as row_without_sum,
)
from .record_ranges import (
    learned_ranges as learned_ranges,
)
from .rest_at_budget import (
    back_at_budget as back_at_budget,
)
from .rest_lines import (
    ranges_stated as ranges_stated,
    RestLines as RestLines,
    spread_of_weeks as spread_of_weeks,
    StatedRanges as StatedRanges,
)
from .site_checks import (
    check_progress as check_progress,
    check_stock as check_stock,
    check_ticket as check_ticket,
    placed_notes as placed_notes,
    trade_notes as trade_notes,
    unit_notes as unit_notes,
)
from .spent import (
    paid_by_split as paid_by_split,
    paid_parts as paid_parts,
    Place as Place,
    Spent as Spent,
)
from .status import (
    CodeStatus as CodeStatus,
    job_status as job_status,
    JobStatus as JobStatus,
    Total as Total,
    total as total,
)
from .still_open import (
    open_matters as open_matters,
)
from .taken_alternates import (
    alternate_parts as alternate_parts,
)
from .tickets import (
    bill_against_tickets as bill_against_tickets,
    priced_like_last as priced_like_last,
    Reversible as Reversible,
    Ticket as Ticket,
    unbilled_tickets as unbilled_tickets,
)
from .to_decide import (
    allowance_codes as allowance_codes,
    open_allowances as open_allowances,
    waiting_changes as waiting_changes,
)
from .trace_json import (
    trace_fields as trace_fields,
)
from .traced_rows import (
    Trace as Trace,
    trace as trace,
)
from .track_json import (
    track_fields as track_fields,
)
from .unit_hours import (
    hours_of_codes as hours_of_codes,
    hours_per_unit as hours_per_unit,
    HoursOfCode as HoursOfCode,
)
from .ways_on import (
    better_ways_on as better_ways_on,
)
from .weekly_costs import (
    WeekOfWork as WeekOfWork,
    weeks_of_work as weeks_of_work,
)
from .weekly_course import (
    course_by_week as course_by_week,
    WeekPoint as WeekPoint,
)
