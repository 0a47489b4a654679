"""The clinician's side of the store of patients, without a screen: who alone opens it, the list, one patient."""
