"""Federal taxes of an employer as they were in 2025, for tests of what comes of them."""

from decimal import Decimal

from estimator.rates.labor.payroll_taxes import EmployerTax

SOCIAL_SECURITY = EmployerTax("social security", Decimal("0.062"), Decimal(176100))
MEDICARE = EmployerTax("Medicare", Decimal("0.0145"))
UNEMPLOYMENT = EmployerTax("federal unemployment", Decimal("0.006"), Decimal(7000))
