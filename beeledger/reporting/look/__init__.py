"""The one typographic system of all paper and workbooks."""
