"""Exact conversions between the units people use and SI."""

FT_M = 0.3048
US_FL_OZ_ML = 29.5735295625
MPH_MS = 0.44704
INCH_MM = 25.4
MIL_UM = 25.4
# 128 US fluid ounces are a gallon.
M2_PER_L_IN_FT2_PER_GAL = US_FL_OZ_ML * 128 / 1000 / FT_M**2


def f_to_c(fahrenheit: float) -> float:
    """Degrees Fahrenheit to Celsius."""
    return (fahrenheit - 32) / 1.8


def c_to_f(celsius: float) -> float:
    """Degrees Celsius to Fahrenheit."""
    return celsius * 1.8 + 32


def df_to_dk(difference_f: float) -> float:
    """A difference in Fahrenheit degrees to kelvin: 5 F is 2.78 K, not 3."""
    return difference_f / 1.8


def dk_to_df(difference_k: float) -> float:
    """A difference in kelvin to Fahrenheit degrees."""
    return difference_k * 1.8


def mph_to_ms(mph: float) -> float:
    """Miles an hour to metres a second."""
    return mph * MPH_MS


def ms_to_mph(ms: float) -> float:
    """Metres a second to miles an hour."""
    return ms / MPH_MS


def ft_to_m(feet: float) -> float:
    """Feet to metres."""
    return feet * FT_M


def m_to_ft(metres: float) -> float:
    """Metres to feet."""
    return metres / FT_M


def oz_to_ml(ounces: float) -> float:
    """US fluid ounces to millilitres."""
    return ounces * US_FL_OZ_ML


def ml_to_oz(millilitres: float) -> float:
    """Millilitres to US fluid ounces."""
    return millilitres / US_FL_OZ_ML


def inch_to_mm(inches: float) -> float:
    """Inches (of rain) to millimetres."""
    return inches * INCH_MM


def mm_to_inch(millimetres: float) -> float:
    """Millimetres to inches."""
    return millimetres / INCH_MM
