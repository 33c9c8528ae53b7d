"""Paper and workbooks out."""
