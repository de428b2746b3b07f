//! What keeps the model while it is built: rods, nodes, sections and names.

use super::{
    material::material,
    rod::{Rod, Segment},
    skeleton::{LinkRow, StayRow},
};
use crate::{
    analysis::{Member, MemberId, Model, NodeId, Orientation, Section, SectionId},
    catalogue::NotHeld,
    design::{Design, StrengthBasis},
    frame::{
        Frame, Point, Role, Stands, at_tilt,
        vector::{At, minus, plus},
    },
};
use std::collections::BTreeMap;

/// Modulus of the clamped bolts that join layers (N/mm²): steel.
const LINK_E_MPA: f64 = 200e3;
const LINK_G_MPA: f64 = 77e3;

/// Everything the builder keeps while it works.
pub(super) struct Builder<'a> {
    pub(super) frame: &'a Frame,
    pub(super) design: &'a Design,
    pub(super) basis: &'a StrengthBasis,
    pub(super) tilt_rad: f64,
    pub(super) row: usize,
    pub(super) model: Model,
    pub(super) rods: Vec<Rod>,
    pub(super) links: Vec<LinkRow>,
    pub(super) stays: Vec<StayRow>,
    pub(super) braces: Vec<(MemberId, usize)>,
    pub(super) places: Vec<At>,
    pub(super) sections: BTreeMap<String, SectionId>,
    pub(super) names: BTreeMap<String, usize>,
    pub(super) grounded: Vec<(NodeId, usize)>,
    pub(super) at_grade: Vec<(NodeId, usize)>,
    pub(super) holds: Vec<(NodeId, usize)>,
    pub(super) ballast: Vec<(NodeId, usize, f64)>,
}

impl Builder<'_> {
    pub(super) fn take_sticks(&mut self) {
        let mut count: BTreeMap<&str, u8> = BTreeMap::new();
        for (i, stick) in self.frame.sticks.iter().enumerate() {
            let mark = self.frame.mark(i);
            let nth = count.entry(mark).or_insert(0);
            let letter = char::from(b'a' + *nth % 26);
            let round = if *nth >= 26 { format!("{}", *nth / 26) } else { String::new() };
            *nth += 1;
            let foot = self.frame.feet.iter().find(|foot| foot.stick == i).map(|foot| foot.stands);
            let in_soil = matches!(foot, Some(Stands::InConcrete { .. }));
            let wet = self.basis.wet_service || in_soil;
            let mut rod = Rod::new(stick, mark, format!("{mark}{letter}{round}"), self.tilt_rad, wet);
            if foot.is_some() && !in_soil {
                rod.seat_on_surface();
            }
            self.rods.push(rod);
        }
    }

    pub(super) fn take_sections(&mut self) -> Result<(), NotHeld> {
        for r in 0..self.rods.len() {
            let (section, wet) = (self.rods[r].section, self.rods[r].wet);
            let name = section_name(&self.rods[r]);
            if self.sections.contains_key(&name) {
                continue;
            }
            let m = material(section, self.basis, wet)?;
            // Local y is the depth, so bending over the depth turns about z.
            let row = Section::new(
                name.clone(),
                m.e_mpa,
                m.g_mpa,
                section.area_mm2,
                section.i_y_mm4,
                section.i_x_mm4,
                section.j_mm4,
            );
            let id = self.model.section(row.mass(m.kg_per_m));
            self.sections.insert(name, id);
        }
        let d = self.frame.bolt.washer.outer_mm;
        let (area, i) = (std::f64::consts::FRAC_PI_4 * d * d, std::f64::consts::PI * d.powi(4) / 64.0);
        let id = self.model.section(Section::new("clamped bolt", LINK_E_MPA, LINK_G_MPA, area, i, i, 2.0 * i));
        self.sections.insert("clamped bolt".to_string(), id);
        Ok(())
    }

    pub(super) fn section_of(&self, rod: usize) -> SectionId {
        self.sections[&section_name(&self.rods[rod])]
    }

    pub(super) fn link_section(&self) -> SectionId {
        self.sections["clamped bolt"]
    }

    /// A name that no other member has.
    pub(super) fn unique(&mut self, name: String) -> String {
        let nth = self.names.entry(name.clone()).or_insert(0);
        *nth += 1;
        if *nth == 1 { name } else { format!("{name} {nth}") }
    }

    /// The node of a rod at a distance from its marked end, made when there is none.
    pub(super) fn node(&mut self, rod: usize, at_mm: f64) -> NodeId {
        const SAME_MM: f64 = 0.5;
        let at_mm = at_mm.clamp(0.0, self.rods[rod].length_mm);
        if let Some((_, node)) = self.rods[rod].nodes.iter().find(|(t, _)| (t - at_mm).abs() < SAME_MM) {
            return *node;
        }
        // A tied end is a node of the other stick already.
        let place = plus(self.rods[rod].at(at_mm), self.rods[rod].seat);
        let name = format!("{}@{at_mm:.1}", self.rods[rod].name);
        let node = self.model.node(name, place);
        self.places.push(place);
        let nodes = &mut self.rods[rod].nodes;
        let at = nodes.partition_point(|(t, _)| *t < at_mm);
        nodes.insert(at, (at_mm, node));
        node
    }

    pub(super) fn place(&self, node: NodeId) -> At {
        self.places[node.0]
    }

    pub(super) fn up_slope(&self) -> At {
        let (sin, cos) = self.tilt_rad.sin_cos();
        [0.0, cos, sin]
    }

    pub(super) fn out_of_face(&self) -> At {
        let (sin, cos) = self.tilt_rad.sin_cos();
        [0.0, -sin, cos]
    }

    /// Frame pin and fixed pin of the stay in the side view (mm).
    pub(super) fn pins(&self) -> (Point, Point) {
        let linkage = &self.frame.linkage;
        (at_tilt(linkage.frame_pin(), self.tilt_rad), linkage.fixed_end(self.frame.row[self.row].offset_mm))
    }

    /// Members between the nodes of every rod that bends.
    pub(super) fn members(&mut self) {
        for r in 0..self.rods.len() {
            if matches!(self.rods[r].role, Role::Stay | Role::CornerBrace) {
                continue;
            }
            for (end, t) in [(0, 0.0), (1, self.rods[r].length_mm)] {
                if self.rods[r].ties[end].is_none() {
                    self.node(r, t);
                }
            }
            let rod = self.rods[r].clone();
            let mut places: Vec<(f64, NodeId, Option<super::rod::EndTie>)> =
                rod.nodes.iter().map(|(t, n)| (*t, *n, None)).collect();
            if let Some(tie) = rod.ties[0] {
                places.insert(0, (0.0, tie.node, Some(tie)));
            }
            if let Some(tie) = rod.ties[1] {
                places.push((rod.length_mm, tie.node, Some(tie)));
            }
            let section = self.section_of(r);
            for (k, pair) in places.windows(2).enumerate() {
                let ((from, i, tie_i), (to, j, tie_j)) = (pair[0], pair[1]);
                let mut member = Member::new(format!("{}.{}", rod.name, k + 1), i, j, section);
                member.orientation = Orientation::YAxis(rod.across);
                member.offsets = [(from, i), (to, j)].map(|(at, node)| minus(rod.at(at), self.place(node)));
                if let Some(tie) = tie_i {
                    member.joints[0] = tie.joint;
                }
                if let Some(tie) = tie_j {
                    member.joints[1] = tie.joint;
                }
                let member = self.model.member(member);
                self.rods[r].segments.push(Segment { member, from_mm: from, to_mm: to });
            }
        }
    }
}

fn section_name(rod: &Rod) -> String {
    format!("{}{}", rod.section.name, if rod.wet { " wet" } else { "" })
}
