//! Names of marks on a ruler and their neighbours.
