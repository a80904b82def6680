"""Numbers as people type them: decimal point or comma, minus sign or hyphen, spaces anywhere."""


def parse_number(text: str) -> float | None:
    """The number, or None. '1,5' and '1.5' are both one and a half; grouping marks are refused, not guessed."""
    plain = text.strip().replace("\u2212", "-").replace("\u00a0", "").replace("\u202f", "").replace(" ", "")
    if plain.count(",") + plain.count(".") > 1:
        return None
    try:
        value = float(plain.replace(",", "."))
    except ValueError:
        return None
    return value if value - value == 0.0 and "_" not in plain else None


def shortest(value: float, decimals: int) -> str:
    """At least the field's decimals, more when the value has more: what is shown is what is held."""
    text = f"{value:.{decimals}f}"
    if float(text) != value:
        text = f"{value:.{max(decimals, 4)}f}".rstrip("0")
    return text.replace("-", "\u2212")
