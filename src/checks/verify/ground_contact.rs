//! Wood that touches the ground: is it treated?

use super::{kind::Kind, row::State, survey::Survey};
use crate::{
    catalogue::{Family, Section},
    design::{Base, Design, Ground},
    frame::Role,
};

/// The sticks in the ground or on it, where they are of wood.
pub(super) fn in_ground(design: &Design) -> Option<(Role, &'static Section)> {
    let (role, section) = match &design.support.base {
        Base::Posts(posts) => (Role::Post, posts.section),
        Base::Runners(runners) if runners.on == Ground::Ground => (Role::Runner, runners.section),
        Base::Runners(_) => return None,
    };
    (section.family == Family::Wood).then_some((role, section))
}

impl Survey<'_> {
    /// A row for each stick of wood in the ground that is not said to be treated.
    pub(super) fn ground_contact(&mut self) {
        let Some((role, section)) = in_ground(self.design) else { return };
        let treated = self.rules.treated;
        let (what, clause) =
            (format!("{} {}", role.word(), section.name), format!("{} {}", treated.document, treated.place));
        let state = match self.design.frame.treated {
            Some(true) => return,
            Some(false) => State::Refused(format!(
                "the {what} touches the ground untreated, which {clause} does not allow: buy it treated for the ground and \
                 write `frame.treated: true`"
            )),
            None => State::NotChecked(format!(
                "the design does not say whether the {what}, which touches the ground, is treated ({clause}): write \
                 `frame.treated: true` once its end tag says so"
            )),
        };
        let marks: Vec<String> = self.frame.pieces.iter().filter(|p| p.role == role).map(|p| p.mark.clone()).collect();
        for mark in marks {
            self.not_checked(&mark, Kind::GroundContact, state.clone());
        }
    }
}
