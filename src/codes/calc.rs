//! One calculation with all its numbers, so that it can be run again and written out.

use super::{Ask, Foot, Joint, Limit, Refusal, adm::AluminiumMember, aisc360::SteelMember, nds::WoodMember};
use crate::{catalogue::Trace, loads::Duration};

/// A calculation: what was asked of whom.
#[derive(Debug, Clone, PartialEq)]
pub enum Calc {
    /// A member of wood.
    Wood(WoodMember, Duration, Ask),
    /// A member of steel.
    Steel(SteelMember, Ask),
    /// A member of aluminium.
    Aluminium(AluminiumMember, Ask),
    /// A joint.
    Joint(Joint),
    /// A foot.
    Foot(Foot),
    /// A limit.
    Limit(Limit),
}

impl Calc {
    /// What this calculation leaves open, so that its value alone is no result.
    #[must_use]
    pub fn caveat(&self) -> Option<&'static str> {
        match self {
            Self::Aluminium(..) => {
                Some("first yield alone: buckling of aluminium is not held, nor strength near a weld")
            }
            Self::Wood(..) | Self::Steel(..) | Self::Joint(_) | Self::Foot(_) | Self::Limit(_) => None,
        }
    }

    /// The utilisation: demand over what is allowed.
    ///
    /// # Errors
    /// An equation outside its range, or one that is not held.
    pub fn utilisation<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let answer = match self {
            Self::Wood(member, duration, ask) => member.utilisation(trace, *duration, ask),
            Self::Steel(member, ask) => member.utilisation(trace, ask),
            Self::Aluminium(member, ask) => member.utilisation(trace, ask),
            Self::Joint(joint) => Some(joint.utilisation(trace)),
            Self::Foot(foot) => Some(foot.utilisation(trace)),
            Self::Limit(limit) => Some(limit.utilisation(trace)),
        };
        answer.unwrap_or_else(|| Err(Refusal::not_held("the question does not arise in this material")))
    }
}
