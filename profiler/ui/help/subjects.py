"""What people type when they look for a page of the help: other words than those it is written in, by its title.

They stand below the page as "Found under" and are found like its text. A word that a page says by itself need not
stand here.
"""

from profiler.assess.evidence.words import RECORD_TITLE

START = "How to begin"
KEYS_PAGE = "Keys and mouse"
WORDS = "Words"
SIZES = "Size classes"
CAUTIONS = "Cautions and limits"
FILES = "Outputs"
STUDY_FILE = "Study file (.bowl)"
EDDIES = "Why an eddy forms, when it stops, how sure that is"
RETROFIT = "A new bowl for a machine that exists"
SURE = "How sure the figures are"
WORN = "Measured and worn profiles"
PROVING = "Trials: is the new bowl better?"
LEARNING = "Lessons"
CHANGES = "Change log"
NOTICES = "Notices and licences"
SYMBOLS_PAGE = "Symbols of the equations"

SUBJECTS: dict[str, tuple[str, ...]] = {
    START: ("tutorial", "getting started", "introduction", "overview", "first steps", "quick start", "inches", "unit"),
    KEYS_PAGE: ("shortcut", "keyboard", "hotkey", "undo", "zoom", "pan", "scroll", "dark mode"),
    WORDS: ("glossary", "definition", "term", "vocabulary", "nomenclature"),
    EDDIES: ("eddy", "vortex", "turbulence", "recirculation", "rolling", "mixing", "boil", "packing", "compaction",
             "dead groove", "shear", "thick feed", "thin feed", "student", "exercise", "theory", "how it works",
             "physics"),
    RETROFIT: ("retrofit", "existing bowl", "replacement", "new design", "liner", "insert", "step by step", "workflow",
               "walk-through", "how to design", "fit", "designer"),
    SURE: ("uncertainty", "uncertain", "error", "accuracy", "confidence", "reliable", "reliability", "precision",
           "trust", "validated", "calibration", "calibrate", "how sure", "tolerance of the model"),
    WORN: ("wear", "worn", "abrasion", "life", "service life", "inspection", "as built", "coordinate measuring",
           "cmm", "scan", "acceptance", "deviation", "chipped lip", "relining", "hours of service", "wear rate"),
    PROVING: ("trial", "significance", "significant", "sample", "sampling", "assay", "statistics", "verdict",
              "recovery", "gold", "grade", "proof", "test work", "pilot", "confidence interval",
              "comparison on the plant"),
    LEARNING: ("learn", "teaching", "student", "course", "practice"),
    NOTICES: ("license", "copyright", "open source", "lgpl", "third party", "about", "packages"),
    CHANGES: ("what is new", "version", "release", "history", "changed", "news", "upgrade"),
    SYMBOLS_PAGE: ("equation", "formula", "greek", "theta", "sigma", "alpha", "delta", "mu", "omega", "notation"),
    SIZES: ("particle size distribution", "psd", "p80", "screen analysis", "grind", "coarse feed", "fines", "slimes"),
    FILES: ("casting", "mould", "pattern maker", "former", "machining", "lathe", "workshop", "tolerance", "file format",
            "cad", "stl", "mesh", "3d print", "export", "drawing", "report", "template"),
    CAUTIONS: ("safety", "danger", "hazard", "risk", "guard", "overspeed", "burst", "disclaimer", "warranty",
               "engineer", "certificate", "assumption", "model limits", "viscosity", "clay", "bingham",
               "rheology"),
    RECORD_TITLE: ("validation", "evidence", "experiment", "flume", "measured", "proof of the model", "literature"),
    STUDY_FILE: ("file format", "json", "schema", "save", "import", "script", "seat", "deflector", "strainer", "drill",
                 "feed rate", "throughput", "tonnage"),
}  # fmt: skip

# By a quantity's key, where its own label, meaning and limits do not say the word.
OF_QUANTITIES: dict[str, tuple[str, ...]] = {
    "repose_deg": ("angle of repose", "beach angle"),
    "wall_angle_deg": ("taper", "cone angle", "face angle", "slope of the wall"),
    "acceleration_g": ("g-force", "g force", "gravity", "centrifugal", "rcf", "relative centrifugal force"),
    "delivered_pct": ("percent solids", "% solids", "pulp density", "slurry density", "dilute", "dilution"),
    "groove_ratio": ("eddy", "vortex", "intensity", "turbulence"),
    "groove_power_w": ("power of the eddy", "dissipation"),
    "groove_water_l_min": ("fluidisation", "wash water", "flow rate"),
    "lifting_mm_s": ("fluidisation velocity", "minimum fluidisation", "u_mf"),
    "velocity_ratio": ("fluidised", "loose bed", "packed bed"),
    "energy_kj": ("flywheel", "stored energy"),
    "hoop_mpa": ("stress", "strength", "burst"),
    "strength_factor": ("safety factor", "factor of safety"),
    "buckling_low_kpa": ("buckling", "collapse", "denting"),
    "unbalance_g_mm": ("balancing", "vibration", "imbalance"),
    "feed_power_kw": ("motor", "drive power", "kilowatt"),
    "land_mm": ("pitch", "spacing of grooves", "land width"),
    "wall_behind_mm": ("wall thickness",),
}
