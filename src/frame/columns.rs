//! One direction of the panel field: where panels, members between them, and slots for posts come, edge to edge.

use crate::quantities::Tape;

/// How panels meet the members at their edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Edge {
    /// Panel lies on the member by at least this much (mm).
    Lapped(f64),
    /// Panel keeps this distance from the member (mm).
    Inset(f64),
    /// Panels pass over the members, and end this far inside the outer edges (mm).
    Over(f64),
}

/// What the layout of one direction needs.
#[derive(Debug, Clone)]
pub(super) struct Wanted {
    pub(super) panels: usize,
    /// Panel size in this direction (mm).
    pub(super) panel_mm: f64,
    /// Between panels that share a member (mm).
    pub(super) gap_mm: f64,
    pub(super) edge: Edge,
    /// Thickness of the outer member (mm).
    pub(super) outer_mm: f64,
    /// Thickness of one ply of an inner member, and plies.
    pub(super) inner_mm: f64,
    pub(super) plies: usize,
    /// After which panel a slot comes (0 is before the first).
    pub(super) slots_after: Vec<usize>,
    /// Width of a slot (mm).
    pub(super) slot_mm: f64,
    /// Size the whole must have (mm).
    pub(super) outside_mm: Option<f64>,
}

/// One member crossing this direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Across {
    /// Near face (mm).
    pub(super) from_mm: f64,
    /// Thickness (mm).
    pub(super) thick_mm: f64,
    /// First or last of all.
    pub(super) outer: bool,
    /// The slot it stands beside, if any.
    pub(super) slot: Option<usize>,
}

/// A direction laid out, from its near edge at zero.
#[derive(Debug, Clone, Default)]
pub(super) struct Course {
    pub(super) total_mm: f64,
    /// Near and far edge of each panel (mm).
    pub(super) panels: Vec<[f64; 2]>,
    pub(super) members: Vec<Across>,
    /// Clear openings between members that hold panels (mm).
    pub(super) bays: Vec<[f64; 2]>,
    pub(super) slots: Vec<[f64; 2]>,
}

/// Why a direction cannot be laid out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Misfit {
    /// The inner member is too thin for two laps and the gap: found and needed (mm).
    InnerTooThin { found_mm: f64, needed_mm: f64 },
    /// The outside size is smaller than panels and members need (mm).
    OutsideTooSmall { given_mm: f64, needed_mm: f64 },
    /// The outside size is larger than the panels can bridge (mm).
    OutsideTooLarge { given_mm: f64, needed_mm: f64 },
}

impl Wanted {
    pub(super) fn lay_out(&self, tape: Tape) -> Result<Course, Misfit> {
        let laid = self.with_room(0.0, tape)?;
        let Some(outside) = self.outside_mm else { return Ok(laid) };
        let spare = outside - laid.total_mm;
        // A size written with the other tape's marks is the same size.
        let same = tape.mark_mm() / 2.0;
        if spare < -same {
            return Err(Misfit::OutsideTooSmall { given_mm: outside, needed_mm: laid.total_mm });
        }
        if spare < same {
            return Ok(laid);
        }
        match self.edge {
            Edge::Inset(_) => self.with_room(spare / self.panels as f64, tape),
            Edge::Lapped(_) | Edge::Over(_) => {
                Err(Misfit::OutsideTooLarge { given_mm: outside, needed_mm: laid.total_mm })
            }
        }
    }

    /// `room` is added to each bay.
    fn with_room(&self, room_mm: f64, tape: Tape) -> Result<Course, Misfit> {
        let mut laid = Course::default();
        let inner = self.inner_mm * self.plies as f64;
        let inner_lap = (inner - self.gap_mm) / 2.0;
        if let Edge::Lapped(lap) = self.edge {
            let shared = (1..self.panels).any(|after| !self.slots_after.contains(&after));
            if shared && inner_lap < lap - 0.01 {
                return Err(Misfit::InnerTooThin { found_mm: inner, needed_mm: 2.0 * lap + self.gap_mm });
            }
        }
        let mut at = 0.0;
        laid.member(&mut at, self.outer_mm, 1, true, None);
        for panel in 0..self.panels {
            if self.slots_after.contains(&panel) {
                laid.slot(&mut at, self, panel == 0);
            }
            let is_shared = |after: usize| after > 0 && after < self.panels && !self.slots_after.contains(&after);
            let lap_at = |after: usize, lap: f64| if is_shared(after) { inner_lap } else { lap };
            match self.edge {
                Edge::Inset(clear) => {
                    let opening = tape.at_least_mm(self.panel_mm + 2.0 * clear) + room_mm;
                    let side = (opening - self.panel_mm) / 2.0;
                    laid.panels.push([at + side, at + side + self.panel_mm]);
                    laid.bays.push([at, at + opening]);
                    at += opening;
                }
                Edge::Lapped(lap) => {
                    let (near, far) = (lap_at(panel, lap), lap_at(panel + 1, lap));
                    let opening = tape.nearest_mm(self.panel_mm - near - far);
                    laid.panels.push([at - near, at - near + self.panel_mm]);
                    laid.bays.push([at, at + opening]);
                    at += opening;
                }
                Edge::Over(inside) => {
                    // The outer member lies under the first panel: step back to its near face. Only a slot's
                    // member is passed by.
                    let start = if panel == 0 && !self.slots_after.contains(&0) { inside } else { at };
                    laid.panels.push([start, start + self.panel_mm]);
                    at = start + self.panel_mm;
                }
            }
            if panel + 1 < self.panels && !self.slots_after.contains(&(panel + 1)) {
                match self.edge {
                    Edge::Over(_) => at += self.gap_mm,
                    _ => laid.member(&mut at, self.inner_mm, self.plies, false, None),
                }
            }
        }
        if let Edge::Over(inside) = self.edge {
            let ends_at_slot = self.slots_after.contains(&self.panels);
            at = tape.at_least_mm(at) + if ends_at_slot { 0.0 } else { inside - self.outer_mm };
        }
        if self.slots_after.contains(&self.panels) {
            laid.slot(&mut at, self, false);
        }
        laid.member(&mut at, self.outer_mm, 1, true, None);
        if let Edge::Over(_) = self.edge {
            laid.bays = laid.openings();
        }
        laid.total_mm = at;
        laid.join_slots();
        Ok(laid)
    }
}

impl Course {
    fn member(&mut self, at: &mut f64, thick_mm: f64, plies: usize, outer: bool, slot: Option<usize>) {
        for _ in 0..plies {
            self.members.push(Across { from_mm: *at, thick_mm, outer, slot });
            *at += thick_mm;
        }
    }

    /// Member, slot, member; at the outer edges the outer member is one side of the slot.
    fn slot(&mut self, at: &mut f64, wanted: &Wanted, first: bool) {
        let index = self.slots.len();
        let last = self.panels.len() == wanted.panels;
        if !first {
            self.member(at, wanted.inner_mm, wanted.plies, false, Some(index));
        }
        self.slots.push([*at, *at + wanted.slot_mm]);
        *at += wanted.slot_mm;
        if !last {
            self.member(at, wanted.inner_mm, wanted.plies, false, Some(index));
        }
    }

    /// Openings between neighbouring members, but for slots.
    fn openings(&self) -> Vec<[f64; 2]> {
        let between = self.members.windows(2).map(|pair| [pair[0].from_mm + pair[0].thick_mm, pair[1].from_mm]);
        let is_slot = |gap: &[f64; 2]| self.slots.iter().any(|slot| (slot[0] - gap[0]).abs() < 1e-6);
        between.filter(|gap| gap[1] - gap[0] > 1e-6 && !is_slot(gap)).collect()
    }

    /// Outer members that touch a slot belong to it.
    fn join_slots(&mut self) {
        for (index, slot) in self.slots.iter().enumerate() {
            for member in self.members.iter_mut().filter(|m| m.outer) {
                let touches = (member.from_mm + member.thick_mm - slot[0]).abs() < 1e-6
                    || (member.from_mm - slot[1]).abs() < 1e-6;
                if touches {
                    member.slot = Some(index);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantities::Units;

    fn wanted(edge: Edge) -> Wanted {
        Wanted {
            panels: 2,
            panel_mm: 1134.0,
            gap_mm: 20.0,
            edge,
            outer_mm: 38.1,
            inner_mm: 38.1,
            plies: 2,
            slots_after: vec![],
            slot_mm: 150.0,
            outside_mm: None,
        }
    }

    #[test]
    fn inset_bays_hold_the_panel_and_its_room() {
        let laid = wanted(Edge::Inset(6.35)).lay_out(Tape::of(Units::Us)).expect("fits");
        // 1134 + 12.7 = 1146.7 mm is 45-5/32 in; the next sixteenth is 45-3/16 in = 1147.7625 mm.
        assert!((laid.total_mm - (4.0 * 38.1 + 2.0 * 1147.7625)).abs() < 1e-9);
        assert_eq!(laid.members.len(), 4);
        assert!(
            laid.panels.iter().zip(&laid.bays).all(|(p, b)| p[0] - b[0] >= 6.35 - 1e-9 && b[1] - p[1] >= 6.35 - 1e-9)
        );
    }

    #[test]
    fn lapped_panels_keep_their_gap() {
        let laid = wanted(Edge::Lapped(18.0)).lay_out(Tape::of(Units::Metric)).expect("fits");
        assert!((laid.panels[1][0] - laid.panels[0][1] - 20.0).abs() <= 1.0);
        let thin = Wanted { plies: 1, ..wanted(Edge::Lapped(18.0)) };
        assert!(matches!(thin.lay_out(Tape::of(Units::Metric)), Err(Misfit::InnerTooThin { .. })));
    }

    #[test]
    fn slots_stand_between_members() {
        let inside = Wanted { slots_after: vec![0, 2], ..wanted(Edge::Inset(6.35)) };
        let laid = inside.lay_out(Tape::of(Units::Us)).expect("fits");
        assert_eq!(laid.slots.len(), 2);
        for (index, slot) in laid.slots.iter().enumerate() {
            let beside: Vec<_> = laid.members.iter().filter(|m| m.slot == Some(index)).collect();
            assert!(beside.iter().any(|m| (m.from_mm + m.thick_mm - slot[0]).abs() < 1e-9), "left of slot {index}");
            assert!(beside.iter().any(|m| (m.from_mm - slot[1]).abs() < 1e-9), "right of slot {index}");
        }
    }
}
