//! The command line: the same program for a batch, a script or a machine with no screen.
