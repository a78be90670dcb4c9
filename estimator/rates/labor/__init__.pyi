from .labor_burden import (
    BurdenedHour as BurdenedHour, BurdenedPay as BurdenedPay, BurdenLine as BurdenLine,
    PayrollInsurance as PayrollInsurance, WageTerms as WageTerms, burdened_hour as burdened_hour,
    burdened_pay as burdened_pay,
)
from .overtime import (
    HoursAtRate as HoursAtRate, WeekPay as WeekPay, earned_week_pay as earned_week_pay,
    overtime_hours as overtime_hours, overtime_on_bonus as overtime_on_bonus,
    salaried_week_pay as salaried_week_pay, week_pay as week_pay, weekly_salary as weekly_salary,
)
from .payroll_taxes import (
    EmployerTax as EmployerTax, TaxDue as TaxDue, tax_due as tax_due, taxes_due as taxes_due,
)
from .work_week import (
    OVERTIME_RULES as OVERTIME_RULES, OvertimeRule as OvertimeRule, STRAIGHT_TIME as STRAIGHT_TIME,
    WorkWeek as WorkWeek,
)
