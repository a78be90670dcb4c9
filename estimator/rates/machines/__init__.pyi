from .bill import (
    BreakEven as BreakEven, RentalBill as RentalBill, RentalTerms as RentalTerms,
    break_even_table as break_even_table,
    rental_bill as rental_bill, tier_starts as tier_starts,
)
from .owned_equipment import (
    HourlyCost as HourlyCost, OwnedMachine as OwnedMachine,
    average_value_fraction as average_value_fraction, cost_of_money_per_hr as cost_of_money_per_hr,
    depreciation_per_hr as depreciation_per_hr,
)
from .purchase import (
    EquipmentValue as EquipmentValue, PurchaseTerms as PurchaseTerms,
    equipment_value as equipment_value,
)
from .rent_or_own import (
    YearlyChoice as YearlyChoice, break_even_hours as break_even_hours,
    fixed_per_year as fixed_per_year,
)
from .rental import Rental as Rental, Rentals as Rentals, cheapest_rental as cheapest_rental
from .rental_rates import RentalRates as RentalRates, RentalTier as RentalTier
from .running_cost import (
    DIESEL as DIESEL, GASOLINE as GASOLINE, Fuel as Fuel, RunningTerms as RunningTerms,
    Tires as Tires, fuel_gal_per_hr as fuel_gal_per_hr, hourly_cost as hourly_cost,
    repair_per_hr as repair_per_hr, tire_repair_per_hr as tire_repair_per_hr,
)
