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
from .owner_labor import OwnerHours as OwnerHours
from .payroll_taxes import (
    MEDICARE as MEDICARE, EmployerTax as EmployerTax, TaxDue as TaxDue,
    federal_unemployment as federal_unemployment, social_security as social_security,
    tax_cents as tax_cents, tax_due as tax_due, taxes_due as taxes_due,
)
from .work_week import (
    OVERTIME_RULES as OVERTIME_RULES, OvertimeRule as OvertimeRule, STRAIGHT_TIME as STRAIGHT_TIME,
    WorkWeek as WorkWeek,
)
