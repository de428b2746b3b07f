//! Writes a solved model so that any frame program can solve it again, and reads such files.
//!
//! # Format
//! SI units. `nodes`, `sections`, `members`, `supports`, `load_cases` and `results` as an engineer would type them into
//! a frame program; the axes actually used stand in every member. Combinations are written as load cases of their own
//! with their loads multiplied out. What those fields cannot hold stands in further ones:
//!
//! | where | field | meaning |
//! |---|---|---|
//! | top | `springs` | `k[6]` to ground (N/m, N·m/rad), in the support's axes |
//! | node | `mass` | kg |
//! | section | `mass_per_m` | kg/m |
//! | member | `offset_i`, `offset_j` | rigid arms from node to member end, global (m); `length` is the clear one |
//! | member | `end_springs` | springs between end and node instead of a rigid joint, local |
//! | member | `axial_only`, `one_way` | a truss member; `tension`, `compression` or `slack` |
//! | support | `axes` | rows are the support's axes; `fix` and springs follow them |
//! | support | `one_way` | `+` or `-`: the only sign of reaction, in the support's axes |
//! | load case | `member_line`, `member_point` | line load from `a` to `b`, point load `at` (m) from end i, global axes |
//! | result | `order`, `open` | `second` when compression was counted; one-way parts that gave no force, so whose support to take away; `lifted`: nothing holds the frame down, one-way supports held both ways; `fails`: it buckles or finds no rest, the linear sum |
//!
//! An axial member carries the releases that make an ordinary one behave so, and a node where only such members meet
//! has its rotations fixed. [`Model::with_arms_as_members`] replaces rigid arms for programs that know none.

use super::assemble::HELD;
use super::axes;
use super::error::AnalysisError;
use super::exchange_file::{
    CaseRow, Component, EndSprings, LineRow, MemberRow, MemberWay, ModelFile, NodalRow, NodeRow, Ordered, PointRow,
    Releases, ResultRow, SectionRow, Side, SpringRow, SupportRow, UniformRow,
};
use super::load::{LoadAxes, LoadCase, MemberLoad};
use super::member::LocalLoad;
use super::model::{
    EndJoint, Joint, Member, MemberId, Model, NodeId, OneWay, Orientation, Section, Support, Way, unknown,
};
use super::results::{Order, Response, Results};

const UNITS: &str = "SI: m, N, Pa, rad, N*m, N/m, kg";
const CONVENTIONS: [&str; 8] = [
    "Global axes right-handed, Z up. Local x runs from node i to node j.",
    "rotation_deg 0: local z lies in the vertical plane through the member and points up, local y = Z cross x is level; a vertical member has local y = global Y.",
    "rotation_deg b turns y and z right-handed about x. The axes used are written in each member as y_axis and z_axis.",
    "Iz resists bending in the local x-y plane (moment about z), Iy bending in the x-z plane.",
    "Euler-Bernoulli members, small displacements, linear elastic unless a result says order second.",
    "member_udl w_global: force per unit member length, global components, over the whole clear length.",
    "Reactions act on the structure, global axes, springs and contacts included.",
    "end_forces act on the member in its own axes: Fx Fy Fz Mx My Mz at i, then at j.",
];
/// A metre in the room's millimetres.
const M: f64 = 1000.0;
/// Pascals in one N/mm².
const PA: f64 = 1e6;
/// Digits of results; enough to compare, few enough to be the same everywhere.
const DIGITS: i32 = 12;
/// Results below this share of the greatest of their kind are rounding and written as 0.
const NOISE: f64 = 1e-11;

impl Results {
    /// The model with every case and combination and its results, as JSON in SI units.
    #[must_use]
    pub fn to_reference_json(&self, description: &str) -> String {
        self.to_reference_json_of(description, 0..self.len())
    }

    /// The same with the given answers only (numbers as in [`Results::response`]).
    ///
    /// # Panics
    /// When a number is not below [`Results::len`].
    #[must_use]
    pub fn to_reference_json_of(&self, description: &str, answers: impl IntoIterator<Item = usize>) -> String {
        let answers: Vec<Response<'_>> = answers.into_iter().map(|k| self.response(k)).collect();
        let model = &self.structure.model;
        let file = ModelFile {
            name: model.name.clone(),
            desc: description.to_owned(),
            units: UNITS.to_owned(),
            conventions: CONVENTIONS.map(str::to_owned).to_vec(),
            nodes: model.nodes.iter().map(node_row).collect(),
            sections: model.sections.iter().map(section_row).collect(),
            members: (0..model.members.len()).map(|m| self.member_row(m)).collect(),
            supports: (0..model.nodes.len()).filter_map(|n| self.support_row(n)).collect(),
            springs: model.nodes.iter().filter_map(spring_row).collect(),
            load_cases: Ordered(answers.iter().map(|a| (a.name().to_owned(), self.case_row(a))).collect()),
            results: Ordered(answers.iter().map(|a| (a.name().to_owned(), self.result_row(a))).collect()),
        };
        let mut text = serde_json::to_string_pretty(&file).expect("plain numbers and strings always serialise");
        text.push('\n');
        text
    }

    fn member_row(&self, m: usize) -> MemberRow {
        let (model, prepared) = (&self.structure.model, &self.structure.members[m]);
        let member = &model.members[m];
        let [x, y, z] = prepared.axes;
        let level = axes::of_member(x, Orientation::Roll(0.0)).unwrap_or(prepared.axes);
        let roll = match member.orientation {
            Orientation::Roll(deg) => deg,
            _ => axes::dot(y, level[2]).atan2(axes::dot(y, level[1])).to_degrees(),
        };
        let arm = |end: usize| (member.offsets[end] != [0.0; 3]).then(|| tidy(member.offsets[end]).map(|c| c / M));
        MemberRow {
            id: member.name.clone(),
            i: model.nodes[member.i.0].name.clone(),
            j: model.nodes[member.j.0].name.clone(),
            section: model.sections[member.section.0].name.clone(),
            rotation_deg: Some(roll),
            releases: releases(member),
            y_axis: Some(y),
            z_axis: Some(z),
            length: Some(prepared.length / M),
            offset_i: arm(0),
            offset_j: arm(1),
            end_springs: end_springs(member),
            axial_only: member.axial_only,
            one_way: match member.way {
                Way::Both => None,
                Way::TensionOnly => Some(MemberWay::Tension),
                Way::CompressionOnly => Some(MemberWay::Compression),
                Way::Slack => Some(MemberWay::Slack),
            },
        }
    }

    fn support_row(&self, n: usize) -> Option<SupportRow> {
        let node = &self.structure.model.nodes[n];
        let own = node.support.clone().unwrap_or_default();
        let mut fix = own.fixed.map(u8::from);
        // A hinge of axial members: other programs need its rotations held.
        for (c, fix) in fix.iter_mut().enumerate().skip(3) {
            if self.structure.dofs[n][c] == HELD {
                *fix = 1;
            }
        }
        for (c, side) in own.one_way.iter().enumerate() {
            if side.is_some() {
                fix[c] = u8::from(own.springs[c] == 0.0);
            }
        }
        let one_way = own.one_way.iter().any(Option::is_some).then(|| {
            own.one_way.map(|s| {
                s.map(|s| match s {
                    OneWay::Positive => Side::Positive,
                    OneWay::Negative => Side::Negative,
                })
            })
        });
        let said = fix != [0; 6] || one_way.is_some() || own.axes.is_some();
        said.then(|| SupportRow { node: node.name.clone(), fix, axes: own.axes, one_way })
    }

    fn case_row(&self, answer: &Response<'_>) -> CaseRow {
        let model = &self.structure.model;
        let mut row = CaseRow::default();
        if answer.k >= self.cases {
            let terms: Vec<String> =
                answer.parts().iter().map(|(case, factor)| format!("{factor} {}", self.labels[*case])).collect();
            row.desc = terms.join(" + ");
        }
        for (n, node) in model.nodes.iter().enumerate() {
            let load: [f64; 6] = std::array::from_fn(|c| {
                answer.parts().iter().map(|&(case, factor)| factor * self.loads.nodal[case][6 * n + c]).sum()
            });
            if load.iter().any(|&v| v != 0.0) {
                let force = tidy([load[0], load[1], load[2]]);
                let moment = tidy([load[3], load[4], load[5]]).map(|v| v / M);
                row.nodal.push(NodalRow { node: node.name.clone(), force, moment });
            }
        }
        for (m, member) in self.structure.members.iter().enumerate() {
            let name = || model.members[m].name.clone();
            for (factor, load) in self.loads.on(m, answer.parts()) {
                let global = |v| tidy(axes::scaled(axes::out_of(&member.axes, v), factor));
                match load {
                    LocalLoad::Line { a, b, w_a, w_b } => {
                        // N/mm to N/m.
                        let (w_a, w_b) = (global(w_a).map(|w| w * M), global(w_b).map(|w| w * M));
                        if a == 0.0 && b == member.length && w_a == w_b {
                            row.member_udl.push(UniformRow { member: name(), w_global: w_a });
                        } else {
                            let (a, b) = (a / M, b / M);
                            row.member_line.push(LineRow { member: name(), a, b, w_a_global: w_a, w_b_global: w_b });
                        }
                    }
                    LocalLoad::Point { at, force, moment } => {
                        let moment = global(moment).map(|v| v / M);
                        row.member_point.push(PointRow { member: name(), at: at / M, force: global(force), moment });
                    }
                }
            }
        }
        row
    }

    fn result_row(&self, answer: &Response<'_>) -> ResultRow {
        let model = &self.structure.model;
        let nodes = || model.nodes.iter().enumerate();
        let held = |n: usize| model.nodes[n].support.is_some() || answer.reaction(NodeId(n)).iter().any(|&v| v != 0.0);
        let displacements = nodes().map(|(n, node)| {
            let d = answer.displacement(NodeId(n));
            (node.name.clone(), vec![d[0] / M, d[1] / M, d[2] / M, d[3], d[4], d[5]])
        });
        let in_metres = |v: &[f64]| v.iter().enumerate().map(|(c, v)| if c % 6 < 3 { *v } else { v / M }).collect();
        let reactions = nodes()
            .filter(|(n, _)| held(*n))
            .map(|(n, node)| (node.name.clone(), in_metres(&answer.reaction(NodeId(n)))));
        let ends = model.members.iter().enumerate();
        let ends = ends.map(|(m, member)| (member.name.clone(), in_metres(&answer.end_forces(MemberId(m)))));
        let (order, open) = match answer.order() {
            Order::First => (String::new(), Vec::new()),
            Order::Lifted => ("lifted".to_owned(), Vec::new()),
            Order::Fails { .. } => ("fails".to_owned(), Vec::new()),
            Order::Iterated { compression, open, .. } => {
                (if compression.is_empty() { "first" } else { "second" }.to_owned(), open.clone())
            }
        };
        ResultRow {
            displacements: Ordered(clean(displacements.collect())),
            reactions: Ordered(clean(reactions.collect())),
            end_forces: Ordered(clean(ends.collect())),
            order,
            open,
        }
    }
}

fn node_row(node: &super::model::Node) -> NodeRow {
    NodeRow { id: node.name.clone(), xyz: node.at.map(|c| c / M), mass: node.mass_kg }
}

fn section_row(s: &Section) -> SectionRow {
    let (m2, m4) = (M * M, M * M * M * M);
    SectionRow {
        id: s.name.clone(),
        area: s.area / m2,
        i_y: s.i_y / m4,
        i_z: s.i_z / m4,
        j: s.j / m4,
        e: s.e * PA,
        g: s.g * PA,
        mass_per_m: s.mass_kg_per_m,
    }
}

fn spring_row(node: &super::model::Node) -> Option<SpringRow> {
    let springs = node.support.as_ref()?.springs;
    let k = std::array::from_fn(|c| if c < 3 { springs[c] * M } else { springs[c] / M });
    springs.iter().any(|&k| k > 0.0).then(|| SpringRow { node: node.name.clone(), k })
}

fn components(joint: &EndJoint) -> [(Component, Joint); 4] {
    [(Component::Fx, joint.fx), (Component::Mx, joint.mx), (Component::My, joint.my), (Component::Mz, joint.mz)]
}

fn releases(member: &Member) -> Releases {
    if member.axial_only {
        let (i, j) = (vec![Component::Mx, Component::My, Component::Mz], vec![Component::My, Component::Mz]);
        return Releases { i, j };
    }
    let free = |end: usize| {
        components(&member.joints[end]).into_iter().filter(|(_, j)| *j == Joint::Free).map(|(c, _)| c).collect()
    };
    Releases { i: free(0), j: free(1) }
}

fn end_springs(member: &Member) -> Option<EndSprings> {
    let sprung = |end: usize| -> Vec<(Component, f64)> {
        let spring = |(c, joint)| match joint {
            Joint::Spring(k) => Some((c, if c == Component::Fx { k * M } else { k / M })),
            _ => None,
        };
        components(&member.joints[end]).into_iter().filter_map(spring).collect()
    };
    let (i, j) = (sprung(0), sprung(1));
    (!i.is_empty() || !j.is_empty()).then_some(EndSprings { i, j })
}

/// Rounded to [`DIGITS`] of its own size, without a negative zero.
fn rounded(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return 0.0;
    }
    let digits = (DIGITS - 1 - value.abs().log10().floor() as i32).clamp(-300, 300);
    // Through text, so that the digits are decimal ones.
    if digits >= 0 { format!("{value:.*}", digits as usize).parse().unwrap_or(value) } else { value }
}

/// A turned vector without the rounding of its turn.
fn tidy(v: [f64; 3]) -> [f64; 3] {
    let size = axes::length(v);
    v.map(|c| if c.abs() < 1e-14 * size { 0.0 } else { rounded(c) })
}

/// Values rounded, and what is rounding alone set to 0: forces against the greatest force, moments against the greatest
/// moment.
fn clean(mut rows: Vec<(String, Vec<f64>)>) -> Vec<(String, Vec<f64>)> {
    let mut greatest = [0.0_f64; 2];
    for (_, row) in &rows {
        row.iter().enumerate().for_each(|(c, v)| greatest[c % 6 / 3] = greatest[c % 6 / 3].max(v.abs()));
    }
    for (_, row) in &mut rows {
        for (c, v) in row.iter_mut().enumerate() {
            *v = if v.abs() < NOISE * greatest[c % 6 / 3] { 0.0 } else { rounded(*v) };
        }
    }
    rows
}

impl Model {
    /// The same frame with each rigid arm as a very stiff member, for programs that know no rigid arms. Nodes and
    /// members keep their numbers, so the same load cases fit. `times` is how much stiffer an arm is than its member;
    /// 1e4 keeps about eight digits.
    #[must_use]
    pub fn with_arms_as_members(&self, times: f64) -> Self {
        let mut model = self.clone();
        for m in 0..self.members.len() {
            for end in 0..2 {
                let member = &self.members[m];
                let offset = member.offsets[end];
                if offset == [0.0; 3] {
                    continue;
                }
                let side = if end == 0 { "i" } else { "j" };
                let name = format!("{} arm {side}", member.name);
                let node = if end == 0 { member.i } else { member.j };
                let tip = model.node(&name, axes::plus(self.nodes[node.0].at, offset));
                let s = &self.sections[member.section.0];
                let i = times * s.i_y.max(s.i_z);
                let arm = model.section(Section::new(&name, s.e, s.g, times * s.area, i, i, times * s.j.max(s.i_y)));
                model.member(Member::new(&name, node, tip, arm));
                let own = &mut model.members[m];
                own.offsets[end] = [0.0; 3];
                if end == 0 { own.i = tip } else { own.j = tip }
            }
        }
        model
    }

    /// Reads a model and its load cases from the exchange format.
    ///
    /// # Errors
    /// [`AnalysisError::Exchange`] with line and column, [`AnalysisError::Unknown`] for a name that points at nothing.
    pub fn from_reference_json(text: &str) -> Result<(Self, Vec<LoadCase>), AnalysisError> {
        let file: ModelFile =
            serde_json::from_str(text).map_err(|e| AnalysisError::Exchange { reason: e.to_string() })?;
        let mut model = Self::new(&file.name);
        for row in &file.nodes {
            let node = model.node(&row.id, row.xyz.map(|c| c * M));
            model.mass(node, row.mass);
        }
        for row in &file.sections {
            let (m2, m4) = (M * M, M * M * M * M);
            let (i_y, i_z, j) = (row.i_y * m4, row.i_z * m4, row.j * m4);
            let section = Section::new(&row.id, row.e / PA, row.g / PA, row.area * m2, i_y, i_z, j);
            model.section(section.mass(row.mass_per_m));
        }
        for row in &file.members {
            let member = read_member(&model, row)?;
            model.member(member);
        }
        for row in &file.supports {
            let node = model.find_node(&row.node)?;
            model.support(node, read_support(row));
        }
        for row in &file.springs {
            let node = model.find_node(&row.node)?;
            let springs = std::array::from_fn(|c| if c < 3 { row.k[c] / M } else { row.k[c] * M });
            let own = model.nodes[node.0].support.take().unwrap_or_default();
            model.support(node, own.springs(springs));
        }
        let cases =
            file.load_cases.0.iter().map(|(name, row)| read_case(&model, name, row)).collect::<Result<_, _>>()?;
        Ok((model, cases))
    }
}

fn read_member(model: &Model, row: &MemberRow) -> Result<Member, AnalysisError> {
    let section = model.sections.iter().position(|s| s.name == row.section);
    let section = section.ok_or_else(|| unknown("section", &row.section, &format!("member {}", row.id)))?;
    let (i, j) = (model.find_node(&row.i)?, model.find_node(&row.j)?);
    let mut member = Member::new(&row.id, i, j, super::model::SectionId(section));
    member.orientation = match (row.rotation_deg, row.z_axis, row.y_axis) {
        (Some(deg), ..) => Orientation::Roll(deg),
        (None, Some(z), _) => Orientation::ZAxis(z),
        (None, None, Some(y)) => Orientation::YAxis(y),
        (None, None, None) => Orientation::Roll(0.0),
    };
    member.offsets = [row.offset_i, row.offset_j].map(|o| o.unwrap_or_default().map(|c| c * M));
    let none = EndSprings::default();
    let springs = row.end_springs.as_ref().unwrap_or(&none);
    member.joints = [(&row.releases.i, &springs.i), (&row.releases.j, &springs.j)].map(|(free, springs)| {
        let mut joint = EndJoint::default();
        free.iter().for_each(|&c| *component(&mut joint, c) = Joint::Free);
        for &(c, k) in springs {
            *component(&mut joint, c) = Joint::Spring(if c == Component::Fx { k / M } else { k * M });
        }
        joint
    });
    if row.axial_only {
        // Its releases say the same once more, for programs without axial members.
        member.joints = member.joints.map(|j| EndJoint { fx: j.fx, ..EndJoint::default() });
        member.axial_only = true;
    }
    member.way = match row.one_way {
        None => Way::Both,
        Some(MemberWay::Tension) => Way::TensionOnly,
        Some(MemberWay::Compression) => Way::CompressionOnly,
        Some(MemberWay::Slack) => Way::Slack,
    };
    Ok(member)
}

fn component(joint: &mut EndJoint, which: Component) -> &mut Joint {
    match which {
        Component::Fx => &mut joint.fx,
        Component::Mx => &mut joint.mx,
        Component::My => &mut joint.my,
        Component::Mz => &mut joint.mz,
    }
}

fn read_support(row: &SupportRow) -> Support {
    let one_way = row.one_way.unwrap_or_default().map(|s| {
        s.map(|s| match s {
            Side::Positive => OneWay::Positive,
            Side::Negative => OneWay::Negative,
        })
    });
    Support { fixed: row.fix.map(|f| f != 0), springs: [0.0; 6], one_way, axes: row.axes }
}

fn read_case(model: &Model, name: &str, row: &CaseRow) -> Result<LoadCase, AnalysisError> {
    let mut case = LoadCase::new(name);
    for load in &row.nodal {
        let ([fx, fy, fz], [mx, my, mz]) = (load.force, load.moment.map(|m| m * M));
        case = case.nodal(model.find_node(&load.node)?, [fx, fy, fz, mx, my, mz]);
    }
    for load in &row.member_udl {
        case.push(model.find_member(&load.member)?, MemberLoad::uniform(load.w_global.map(|w| w / M)));
    }
    for load in &row.member_line {
        let (w_a, w_b) = (load.w_a_global.map(|w| w / M), load.w_b_global.map(|w| w / M));
        let line = MemberLoad::Line { a: load.a * M, b: Some(load.b * M), w_a, w_b, axes: LoadAxes::Global };
        case.push(model.find_member(&load.member)?, line);
    }
    for load in &row.member_point {
        let moment = load.moment.map(|m| m * M);
        let point = MemberLoad::Point { at: load.at * M, force: load.force, moment, axes: LoadAxes::Global };
        case.push(model.find_member(&load.member)?, point);
    }
    Ok(case)
}
