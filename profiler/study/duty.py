"""A duty: one way of running, with its slurry."""

from typing import Annotated

from msgspec import Struct

from .fields import number


class Duty(Struct, frozen=True, forbid_unknown_fields=True):
    """Slurry, feed, speed and water of one way of running."""

    name: str
    speed_rpm: Annotated[float, number("Speed", "rpm", 1, 10000, 5, 0, "Speed of the bowl.")] = 640.0
    solids_pct: Annotated[
        float, number("Solids", "% by mass", 1, 75, 0.5, 1, "Solids in the feed slurry, by mass.")
    ] = 42.0
    d50_um: Annotated[float, number("Size d50", "µm", 5, 5000, 5, 0, "Half of the solids' mass is finer.")] = 110.0
    top_size_um: Annotated[
        float, number("Top size", "µm", 5, 50000, 50, 0, "Coarsest grains fed; a mouth should be three times as wide.")
    ] = 800.0
    dry_feed_t_h: Annotated[float, number("Dry feed", "t/h", 0.001, 5000, 0.1, 2, "Dry solids fed.")] = 3.0
    water_l_min: Annotated[
        float, number("Water", "L/min", 0, 20000, 1, 1, "Fluidising water, spread evenly over the grooves.")
    ] = 40.0
    solids_density_kg_m3: Annotated[
        float, number("Solids density", "kg/m³", 1100, 20000, 10, 0, "Density of the solid grains.")
    ] = 2750.0
    temperature_c: Annotated[float, number("Temperature", "°C", 1, 80, 1, 0, "Of the water.")] = 20.0
    friction_low: Annotated[
        float, number("Friction, low", "", 0.1, 1.2, 0.01, 3, "Lower end of the 90 % range: smooth, rounded grains.")
    ] = 0.32
    friction: Annotated[
        float,
        number(
            "Friction",
            "",
            0.1,
            1.2,
            0.01,
            3,
            "Coefficient between moving grains; the one uncertain number of the model.",
        ),
    ] = 0.45
    friction_high: Annotated[
        float, number("Friction, high", "", 0.1, 1.2, 0.01, 3, "Upper end of the 90 % range: rough, crushed grains.")
    ] = 0.63
    in_window: bool = False  # one of the duties of the ore window
    weight: Annotated[
        float,
        number("Weight", "", 0, 1000, 1, 1, "Share of time in the ore window, in any measure; 0 counts for nothing."),
    ] = 1.0
