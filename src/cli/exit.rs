//! How a command ends.

use crate::design::Fault;
use std::path::PathBuf;

/// A command that ran to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Exit code 0.
    Done,
    /// A check fails, or no verdict can be given where one was asked. Exit code 1.
    CheckFails,
}

/// A command that stopped.
#[derive(Debug)]
pub(crate) enum Failure {
    /// Bad input, all faults at once. Exit code 2.
    Input(Vec<Fault>),
    /// A file or folder that cannot be written. Exit code 3.
    CannotWrite(PathBuf, std::io::Error),
}

impl From<Fault> for Failure {
    fn from(fault: Fault) -> Self {
        Self::Input(vec![fault])
    }
}

impl From<Vec<Fault>> for Failure {
    fn from(faults: Vec<Fault>) -> Self {
        Self::Input(faults)
    }
}

/// Exit code 1.
pub(crate) const CHECK_FAILS: u8 = 1;
/// Exit code 2.
pub(crate) const BAD_INPUT: u8 = 2;
/// Exit code 3.
pub(crate) const CANNOT_WRITE: u8 = 3;
