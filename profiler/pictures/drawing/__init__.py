"""The dimensioned drawing of a bowl: its views, tables, notes and title block, put together on sheets."""
