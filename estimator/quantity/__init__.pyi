from .measures import Measure as Measure, read_measure as read_measure
from .takeoff_functions import TAKE_OFF as TAKE_OFF
from .units import Unit as Unit, unit as unit
