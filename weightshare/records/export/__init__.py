"""Sessions as files for others: tables as CSV or Parquet, JSON, C3D, HL7 FHIR, a data package.

One table of columns (`catalogue`) says what there is; every form, the data dictionary and the documentation are made
from it.
"""
