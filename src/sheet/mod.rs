//! From a proof to pictures and files.
