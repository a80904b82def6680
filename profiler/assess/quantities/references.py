"""The sources of equations as full citations, once: a source names its works shortly, and which it names is read here.

Journal, volume and pages are those that the sources themselves give in the physics; titles are from memory, and the
report says so.
"""

CITATIONS: dict[str, str] = {
    "Abrahams": "Abrahams A.D. (2003) Bed-load transport equation for sheet flow. Journal of Hydraulic Engineering "
    "129(2), 159-163.",
    "Bresse": "Bresse J.A.C. (1866) Cours de mécanique appliquée, 2nd ed., Gauthier-Villars, Paris: thin tube under "
    "outside pressure.",
    "Cui": "Cui J., Patel V.C., Lin C.-L. (2003) Large-eddy simulation of turbulent flow in a channel with "
    "rib roughness. International Journal of Heat and Fluid Flow 24, 372-388.",
    "Dietrich": "Dietrich W.E. (1982) Settling velocity of natural particles. Water Resources Research 18, 1615-1626.",
    "Ferguson": "Ferguson R.I., Church M. (2004) A simple universal equation for grain settling velocity. Journal of "
    "Sedimentary Research 74(6), 933-937.",
    "Gillies": "Gillies R.G., Shook C.A., Xu J. (2004) Modelling heterogeneous slurry flows at high velocities. "
    "Canadian Journal of Chemical Engineering 82, 1060-1065.",
    "Haider": "Haider A., Levenspiel O. (1989) Drag coefficient and terminal velocity of spherical and nonspherical "
    "particles. Powder Technology 58, 63-70.",
    "Hazen": "Hazen A. (1904) On sedimentation. Transactions of the American Society of Civil Engineers 53, 45-88.",
    "Hearn": "Hearn E.J. Mechanics of Materials, vol. 2, ch. 4: rings, discs and cylinders subjected to rotation.",
    "ISO 21940-11": "ISO 21940-11 Mechanical vibration - Rotor balancing - Part 11: Procedures and tolerances for "
    "rotors with rigid behaviour.",
    "Idelchik": "Idelchik I.E. Handbook of Hydraulic Resistance, diagram 4-18: thick-edged hole in a large wall.",
    "Lamé": "Lamé G., Clapeyron B.P.E. (1833) thick cylinder under pressure; in any strength-of-materials text.",
    "Lichtarowicz": "Lichtarowicz A., Duggins R.K., Markland E. (1965) Discharge coefficients for incompressible "
    "non-cavitating flow through long orifices. Journal of Mechanical Engineering Science 7(2), 210-219.",
    "Richardson": "Richardson J.F., Zaki W.N. (1954) Sedimentation and fluidisation: Part I. Transactions of the "
    "Institution of Chemical Engineers 32, 35-53.",
    "Scott": "Scott G.D. (1960) Packing of spheres. Nature 188, 908-909.",
    "Shigley": "Shigley J.E. Mechanical Engineering Design: rotating rings.",
    "Soulsby": "Soulsby R.L., Whitehouse R.J.S. (1997) Threshold of sediment motion in coastal environments. "
    "Proceedings of Pacific Coasts and Ports 1997, 149-154.",
    "Takahashi": "Takahashi T. (1978) Mechanical characteristics of debris flow. Journal of the Hydraulics Division, "
    "ASCE 104(8), 1153-1169.",
    "Weitbrecht": "Weitbrecht V. (2004) Influence of dead-water zones on the dispersive mass transport in rivers. "
    "Dissertation, University of Karlsruhe.",
    "Wen": "Wen C.Y., Yu Y.H. (1966) A generalized method for predicting the minimum fluidization velocity. AIChE "
    "Journal 12, 610-612.",
}
FROM_MEMORY = "Titles are given from memory; journal, volume and pages are those the program's own sources give."


def cited(source: str) -> tuple[str, ...]:
    """The short names of the works a source names, in the order of the alphabet.

    >>> cited("Hazen (1904), film fully mixed")
    ('Hazen',)
    """
    return tuple(name for name in CITATIONS if name in source)
