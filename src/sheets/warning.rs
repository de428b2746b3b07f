//! What must be known before anything of a packet is built.

/// Checks that fail, or that there is no verdict: said on top of every page, on the tilt card, in every table and, where room is
/// short, without its reason on every drawing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warning {
    /// What is the matter, and where it is written out.
    pub what: String,
    /// The reason.
    pub why: String,
}

impl Warning {
    /// What is the matter, and why.
    #[must_use]
    pub fn sentence(&self) -> String {
        format!("{}. {}.", self.what, self.why)
    }

    /// What is the matter.
    #[must_use]
    pub fn short(&self) -> String {
        format!("{}.", self.what)
    }
}
