"""Units, once: the file and the window speak mm, degrees, rpm, t/h; physics speaks SI.

Every conversion of the program is a call into this module, made where `assess` calls `physics`.
"""

from math import pi

GRAVITY = 9.80665  # m/s2, standard gravity (ISO 80000-3)

MM = 1e-3  # m
MILLISECOND = 1e-3
MICRON = 1e-6  # m
DEGREE = pi / 180.0  # rad
PERCENT = 1e-2
TONNE_PER_HOUR = 1000.0 / 3600.0  # kg/s
LITRE = 1e-3  # m3
LITRE_PER_MINUTE = 1e-3 / 60.0  # m3/s
RPM = 2.0 * pi / 60.0  # rad/s
KILOPASCAL = 1e3  # Pa
INCH_MM = 25.4  # mm
