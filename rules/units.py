"""Every conversion between people's units and SI. Exact by definition unless a source is named."""

MM_PER_INCH = 25.4
CM_PER_INCH = 2.54
CM_PER_FOOT = 30.48
LITRES_PER_GALLON = 3.785411784  # US gallon, 231 cubic inches
KPA_PER_PSI = 6.894757293168361
M2_PER_SQUARE_FOOT = 0.09290304
M2_PER_ACRE = 4046.8564224
MM_PER_M_PER_INCH_PER_FOOT = 1000 / 12  # 1 in/ft = 83.33 mm/m


def celsius(fahrenheit: float) -> float:
    """Temperature. [degrees C]"""
    return (fahrenheit - 32) / 1.8


def fahrenheit(celsius: float) -> float:
    """Temperature. [degrees F]"""
    return celsius * 1.8 + 32


def litres_over(depth_mm: float, area_m2: float) -> float:
    """Volume of a depth of water over an area. [L] One mm over one square metre is one litre."""
    return depth_mm * area_m2
