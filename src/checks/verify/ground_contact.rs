//! Wood that touches the ground: is it treated?

use super::{kind::Kind, row::State, survey::Survey};
use crate::{
    catalogue::Family,
    frame::{Frame, Stands},
};

/// The sticks in the ground or on it that are of wood.
pub(super) fn in_ground(frame: &Frame) -> impl Iterator<Item = usize> {
    let touching = frame.feet.iter().filter(|foot| match foot.stands {
        Stands::InConcrete { .. } | Stands::OnGround => true,
        Stands::OnRoof | Stands::OnDeck => false,
    });
    touching.map(|foot| foot.stick).filter(|stick| frame.sticks[*stick].section.family == Family::Wood)
}

impl Survey<'_> {
    /// A row for each stick of wood in the ground that is not said to be treated.
    pub(super) fn ground_contact(&mut self) {
        let frame = self.frame;
        let treated = self.rules.treated;
        for stick in in_ground(frame) {
            let what = format!("{} {}", frame.sticks[stick].role.word(), frame.sticks[stick].section.name);
            let clause = format!("{} {}", treated.document, treated.place);
            let state = match self.design.frame.treated {
                Some(true) => return,
                Some(false) => State::Refused(format!(
                    "the {what} touches the ground untreated, which {clause} does not allow: buy it treated for the ground \
                     and write `frame.treated: true`"
                )),
                None => State::NotChecked(format!(
                    "the design does not say whether the {what}, which touches the ground, is treated ({clause}): write \
                     `frame.treated: true` once its end tag says so"
                )),
            };
            self.not_checked(frame.mark(stick), Kind::GroundContact, state);
        }
    }
}
