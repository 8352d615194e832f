pub(crate) mod bin; pub(crate) mod search;
