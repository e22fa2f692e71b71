"""FindsDesk: the finds yard of an excavation, from the field's tags to the shelf."""

__version__ = "0.1.0"
