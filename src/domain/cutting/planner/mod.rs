pub(crate) mod dice; pub(crate) mod model;
