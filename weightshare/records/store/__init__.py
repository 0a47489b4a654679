"""The store of patients: whose sessions are whose, on this computer only. It listens to no network."""
