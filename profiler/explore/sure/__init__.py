"""How sure an answer is: bowls as they are cast, and which input matters most."""
