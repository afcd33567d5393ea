"""The schemas of the maker's documents: loading them, checking a document, and the table of fields."""

from __future__ import annotations

from tauthide.schema.check import check, check_data
from tauthide.schema.fields import Field, fields
from tauthide.schema.places import PlaceOf
from tauthide.schema.store import KINDS, schema

__all__ = ["KINDS", "Field", "PlaceOf", "check", "check_data", "fields", "schema"]
