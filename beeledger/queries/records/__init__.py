"""What a document is filled from: frozen records of ready values, one module a document.

A query fills a record; reporting turns it into paper, a workbook or a preview. Nothing here reads
the database. None means not known or not looked at, and is printed as a blank.
"""
