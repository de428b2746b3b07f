//! From the design as written to a design that can be laid out: defaults filled in, names looked up, ranges checked.
//! Every fault is collected, so one run shows them all.

use super::{
    Placement, WrittenBasis,
    fault::Fault,
    model::{
        Array, Base, Brace, CableBox, Design, FrameSpec, MountingHoles, Panel, Posts, PricedStick, Runners, Seating,
        Shop, Site, StaySpec, Support, Tilts,
    },
    place::Places,
    range::length_range_mm,
    written::{self, Ground, SeatingWord, SupportWord, UnitsWord},
};
use crate::{
    catalogue::{self, Bolt, BoltGrade, Section},
    quantities::{
        Angle, Length, Mass, Tape, Units, Written, angle, deg, inches, kg, length, length_both, length_range, mass,
        mass_range, mm, number, one_line, to_deg, to_inches, to_kg, to_mm,
    },
};

/// Lightest and heaviest panel (kg). Common practice, no source.
const PANEL_KG: [f64; 2] = [0.3, 80.0];

/// Lightest and heaviest panel (kg/m²): flexible sheet to thick double glass. Common practice, no source.
const AREA_KG: [f64; 2] = [2.0, 45.0];

/// From the middle of a mounting hole to the panel's edge, in diameters: one diameter of metal stays outside the hole.
/// Common practice, no source.
const HOLE_FROM_EDGE: f64 = 1.5;

/// The highest latitude of a design (deg): nearer to a pole a bearing says nothing, and noon is no time of day.
pub const MOST_LATITUDE_DEG: f64 = 89.0;

/// The fault of a field whose value no design takes.
const OUT_OF_RANGE: &str = "out-of-range";

/// A bound written in the units of the reader may miss itself by the rounding of the conversion (mm).
const ROUNDING_MM: f64 = 1e-6;

/// Tilts nearer than this are one tilt (deg): drawings print them alike, and a mark of the tape turns a frame as far.
/// Judgement.
pub const SAME_TILT_DEG: f64 = 0.1;

/// Version of the design file that this program reads.
const FILE_VERSION: u32 = 1;

pub(super) fn resolve(file: written::File, places: &Places) -> Result<Design, Vec<Fault>> {
    let mut judge = Judge { faults: Vec::new(), units: file.units.map_or(Units::Us, units_of) };
    let design = judge.design(file);
    let faults: Vec<Fault> = judge
        .faults
        .into_iter()
        .map(|fault| {
            let place = places.of(&fault.field).or_else(|| places.at(1, 1));
            fault.at(place)
        })
        .collect();
    match design {
        Some(design) if faults.is_empty() => Ok(design),
        _ => Err(faults),
    }
}

fn units_of(word: UnitsWord) -> Units {
    match word {
        UnitsWord::Us => Units::Us,
        UnitsWord::Metric => Units::Metric,
    }
}

/// Collects faults while fields are judged. A field that fails gives `None` and the judging goes on.
pub(super) struct Judge {
    faults: Vec<Fault>,
    units: Units,
}

impl Judge {
    pub(super) fn units(&self) -> Units {
        self.units
    }

    /// A field out of its range that does not go with other fields either is told once, by what bounds it closer.
    pub(super) fn fault(&mut self, fault: Fault) {
        self.faults.retain(|told| told.code != OUT_OF_RANGE || told.field != fault.field);
        self.faults.push(fault);
    }

    pub(super) fn out_of_range(&mut self, field: &str, given: &str, range: &str) {
        let sentence = format!("`{field}` is {given}");
        self.fault(Fault::new(OUT_OF_RANGE, field, sentence).hint(format!("it lies {range}")));
    }

    pub(super) fn range(&mut self, field: &str, value: Length, least: Length, most: Length) -> Length {
        if !(to_mm(value) >= to_mm(least) - ROUNDING_MM && to_mm(value) <= to_mm(most) + ROUNDING_MM) {
            let (given, range) = (length_text(value, self.units), length_range([least, most], self.units));
            self.out_of_range(field, &given, &range);
        }
        value
    }

    pub(super) fn optional(
        &mut self,
        field: &str,
        value: Option<Written<Length>>,
        least: Length,
        most: Length,
    ) -> Option<Length> {
        value.map(|v| self.range(field, v.0, least, most))
    }

    /// A length judged by the range its field has in the table.
    fn length(&mut self, field: &str, value: Length) -> Length {
        let [least, most] =
            length_range_mm(field).unwrap_or_else(|| unreachable!("`{field}` has its range in the table"));
        self.range(field, value, mm(least), mm(most))
    }

    fn optional_length(&mut self, field: &str, value: Option<Written<Length>>) -> Option<Length> {
        value.map(|v| self.length(field, v.0))
    }

    fn angle(&mut self, field: &str, value: Angle, least: f64, most: f64) -> Angle {
        let given = to_deg(value);
        if !(given >= least && given <= most) {
            self.out_of_range(field, &angle(value), &format!("between {least}° and {most}°"));
        }
        value
    }

    fn section(&mut self, field: &str, name: &str) -> Option<&'static Section> {
        catalogue::section(name)
            .map_err(|error| self.fault(Fault::new("unknown-section", field, error.to_string())))
            .ok()
    }

    fn bolt(&mut self, field: &str, name: Option<&String>) -> Option<Option<&'static Bolt>> {
        match name {
            None => Some(None),
            Some(name) => catalogue::bolt(name)
                .map(Some)
                .map_err(|error| self.fault(Fault::new("unknown-bolt", field, error.to_string())))
                .ok(),
        }
    }

    fn bolt_grade(&mut self, name: Option<&str>) -> Option<Option<&'static BoltGrade>> {
        let Some(name) = name else { return Some(None) };
        let found = catalogue::bolt_grade(name);
        if found.is_none() {
            let held: Vec<&str> = catalogue::BOLT_GRADES.iter().map(|g| g.name).collect();
            let given: String = name.chars().take(40).collect();
            self.fault(
                Fault::new("unknown-bolt-grade", "support.bolt_grade", format!("no bolt grade is called {given}"))
                    .hint(format!("the grades are {}", held.join(", "))),
            );
        }
        found.map(Some)
    }

    fn text(&mut self, field: &str, text: &str) -> String {
        const LONGEST: usize = 120;
        if text.trim().is_empty() {
            self.fault(Fault::new("empty-text", field, format!("`{field}` is empty")).hint("write a name"));
        }
        if text.chars().count() > LONGEST {
            self.fault(
                Fault::new("text-too-long", field, format!("`{field}` has {} characters", text.chars().count()))
                    .hint(format!("keep it to {LONGEST}: it has to fit a title block")),
            );
        }
        // A name is one line, whatever its author typed: it reaches terminals, tables and title blocks.
        one_line(text)
    }

    fn design(&mut self, file: written::File) -> Option<Design> {
        if file.tiltwright != FILE_VERSION {
            self.fault(
                Fault::new("unknown-version", "tiltwright", format!("file version {} is not known", file.tiltwright))
                    .hint(format!("this program reads version {FILE_VERSION}")),
            );
        }
        let name = self.text("name", &file.name);
        let mut loads = file.loads;
        let site = self.site(&file.site, loads.as_mut());
        let panel = self.panel(&file.panel);
        let array = self.array(&file.array);
        let frame = self.frame(&file.frame, panel.thickness);
        let support = self.support(&file.support);
        let tilts = self.tilts(file.tilts.as_deref(), file.seasons);
        let shop = self.shop(&file.shop);
        let (frame, support, tilts) = (frame?, support?, tilts?);
        let joints = self.joints(&file.joints.unwrap_or_default());
        self.refuse_seating(&frame, &panel);
        self.refuse_gap(&frame, file.array.gap.is_some());
        self.refuse_cleat(&frame, &support);
        self.refuse_hole(&support);
        self.refuse_screws(&frame, &joints);
        let lies_on = match &support.base {
            Base::Runners(runners) => Some(runners.on),
            _ => None,
        };
        Some(Design {
            name,
            units: self.units,
            units_taken: false,
            site,
            panel,
            array: array?,
            frame,
            support,
            tilts,
            goal: file.goal.unwrap_or_default(),
            shop,
            loads,
            soil: self.soil(file.soil.as_ref()),
            ballast: self.ballast(file.ballast.as_ref()),
            stakes: self.stakes(file.stakes.as_ref(), lies_on),
            joints,
            serviceability: self.serviceability(&file.serviceability.unwrap_or_default()),
        })
    }

    fn site(&mut self, site: &written::Site, loads: Option<&mut WrittenBasis>) -> Site {
        let latitude = self.angle("site.latitude", site.latitude.0.0, -MOST_LATITUDE_DEG, MOST_LATITUDE_DEG);
        let longitude = site.longitude.map(|l| self.angle("site.longitude", l.0.0, -180.0, 180.0));
        let unfit = self.faults.len();
        let elevation = self.optional("site.elevation", site.elevation, mm(-500e3), mm(6000e3));
        // A height that no ground has is told already.
        let loads = loads.filter(|_| self.faults.len() == unfit);
        let elevation = self.one_elevation(elevation, loads).unwrap_or(mm(0.0));
        let facing = site.facing.map_or_else(
            || deg(if to_deg(latitude) >= 0.0 { 180.0 } else { 0.0 }),
            |f| self.angle("site.facing", f.0, 0.0, 360.0),
        );
        Site { place: self.text("site.place", &site.place), latitude, longitude, elevation, facing }
    }

    fn panel(&mut self, panel: &written::Panel) -> Panel {
        let unfit = self.faults.len();
        let long_side = self.range("panel.long_side", panel.long_side.0, mm(150.0), mm(3000.0));
        let short_side = self.range("panel.short_side", panel.short_side.0, mm(100.0), mm(2000.0));
        if self.faults.len() == unfit && short_side > long_side {
            self.fault(
                Fault::new("sides-swapped", "panel.short_side", "the short side is longer than the long side")
                    .hint("swap `panel.long_side` and `panel.short_side`"),
            );
        }
        let thickness = self.range("panel.thickness", panel.thickness.0, mm(3.0), mm(80.0));
        let given = panel.mass.0;
        self.mass(given, (self.faults.len() == unfit).then(|| to_mm(long_side) * to_mm(short_side) * 1e-6));
        let size_tolerance =
            self.optional("panel.size_tolerance", panel.size_tolerance, mm(0.0), mm(10.0)).unwrap_or(mm(2.0));
        let mounting_holes = panel.mounting_holes.as_ref().map(|h| MountingHoles {
            along_long_side: self.range(
                "panel.mounting_holes.along_long_side",
                h.along_long_side.0,
                mm(50.0),
                mm(3000.0),
            ),
            across: self.range("panel.mounting_holes.across", h.across.0, mm(50.0), mm(2000.0)),
            diameter: self.range("panel.mounting_holes.diameter", h.diameter.0, mm(4.0), mm(16.0)),
        });
        let cable_box = panel.cable_box.as_ref().map(|b| CableBox {
            from_top: self.range("panel.cable_box.from_top", b.from_top.0, mm(0.0), mm(3000.0)),
            height: self.range("panel.cable_box.height", b.height.0, mm(5.0), mm(3000.0)),
            width: self.range("panel.cable_box.width", b.width.0, mm(5.0), mm(2000.0)),
            depth: self.range("panel.cable_box.depth", b.depth.0, mm(5.0), mm(60.0)),
        });
        let resolved = Panel {
            long_side,
            short_side,
            thickness,
            mass: given,
            size_tolerance,
            edge_support_forbidden: panel.edge_support == Some(written::EdgeSupport::Forbidden),
            mounting_holes,
            cable_box,
        };
        // A side that no panel has is told already.
        if self.faults.len() == unfit {
            self.refuse_beyond_panel(&resolved);
        }
        resolved
    }

    /// Of a panel whose sides are known (m²), one range: what any panel weighs and what one of that size does.
    fn mass(&mut self, given: Mass, area: Option<f64>) {
        const FIELD: &str = "panel.mass";
        let [mut least, mut most] = PANEL_KG;
        let is_panel = (least..=most).contains(&to_kg(given));
        if let Some(area) = area {
            least = least.max(AREA_KG[0] * area);
            most = most.min(AREA_KG[1] * area);
        }
        if (least..=most).contains(&to_kg(given)) {
            return;
        }
        let (shown, range) = (mass(given, self.units), mass_range([kg(least), kg(most)], self.units));
        match area {
            Some(area) if is_panel => self.fault(
                Fault::new(
                    "mass-out-of-proportion",
                    FIELD,
                    format!("no panel of {} m2 weighs {shown}", number(area, 2)),
                )
                .hint(format!(
                    "a panel of this size weighs {range}: from flexible sheet to thick double glass (common practice, no source)"
                ))
                .hint("take it from the panel's data sheet"),
            ),
            _ => self.out_of_range(FIELD, &shown, &range),
        }
    }

    /// Holes in the flange and box on the back, where the panel is.
    fn refuse_beyond_panel(&mut self, panel: &Panel) {
        if let Some(holes) = panel.mounting_holes {
            let edge = holes.diameter * HOLE_FROM_EDGE;
            for (field, spacing, side) in [
                ("panel.mounting_holes.along_long_side", holes.along_long_side, panel.long_side),
                ("panel.mounting_holes.across", holes.across, panel.short_side),
            ] {
                let left = (side - spacing) / 2.0;
                if to_mm(left) < to_mm(edge) - ROUNDING_MM {
                    let l = |value| length_both(value, self.units);
                    let most = mm(Tape::of(self.units).at_most_mm(to_mm(side - edge * 2.0)));
                    self.fault(
                        Fault::new(
                            "hole-at-edge",
                            field,
                            format!(
                                "mounting holes {} apart on a side of {} stand {} from the edge; a hole of {} needs {}",
                                l(spacing),
                                l(side),
                                l(left),
                                l(holes.diameter),
                                l(edge)
                            ),
                        )
                        .hint(format!(
                            "the panel has metal for `{field}: {}` at the most; the frame may want less",
                            l(most)
                        ))
                        .hint("take the hole pattern from the panel's data sheet, between the middles of the holes"),
                    );
                }
            }
        }
        if let Some(CableBox { from_top, height, width, .. }) = panel.cable_box {
            let (long, short) = (panel.long_side, panel.short_side);
            // Of a box that is too high no place is right.
            if !self.refuse_box("height", [height, height, long], ["is", "high on", "long"]) {
                let below = ["ends", "below the upper short side of", "long"];
                self.refuse_box("from_top", [from_top, from_top + height, long], below);
            }
            self.refuse_box("width", [width, width, short], ["is", "wide on", "wide"]);
        }
    }

    /// A box that reaches beyond a side of the panel for its field `name`, and the most this may be.
    fn refuse_box(&mut self, name: &str, [given, reach, side]: [Length; 3], words: [&str; 3]) -> bool {
        let beyond = to_mm(reach) > to_mm(side) + ROUNDING_MM;
        if beyond {
            let [is, on, long] = words;
            let most = Tape::of(self.units).at_most_mm(to_mm(side - reach + given));
            let [reach, side] = [reach, side].map(|value| length_both(value, self.units));
            let field = format!("panel.cable_box.{name}");
            let hint = format!("the most that fits is `{field}: {}`", length(mm(most), self.units));
            let sentence = format!("the cable box {is} {reach} {on} a panel {side} {long}");
            self.fault(Fault::new("box-beyond-panel", field, sentence).hint(hint));
        }
        beyond
    }

    /// The height of the ground above the sea is one number, wherever it is written: wind and sun read the same.
    fn one_elevation(&mut self, site: Option<Length>, loads: Option<&mut WrittenBasis>) -> Option<Length> {
        const SAME_MM: f64 = 1000.0;
        let Some(loads) = loads else { return site };
        let Some(own) = loads.elevation else {
            loads.elevation = site.map(Written);
            return site;
        };
        if let Some(site) = site
            && to_mm(site - own.0).abs() > SAME_MM
        {
            let l = |value| match self.units {
                Units::Us => format!("{} ft", number(to_inches(value) / 12.0, 0)),
                Units::Metric => format!("{} m", number(to_mm(value) / 1000.0, 0)),
            };
            self.fault(
                Fault::new(
                    "elevations-differ",
                    "loads.elevation",
                    format!("the ground lies {} above the sea in `site` and {} in `loads`", l(site), l(own.0)),
                )
                .hint(format!("write `loads.elevation: {}`, or leave one of the two lines out", l(site))),
            );
        }
        Some(site.unwrap_or(own.0))
    }

    fn array(&mut self, array: &written::Array) -> Option<Array> {
        let frames = array.frames.unwrap_or(1);
        for (field, count, most) in
            [("array.rows", array.rows, 6), ("array.columns", array.columns, 64), ("array.frames", frames, 32)]
        {
            if count == 0 || count > most {
                self.out_of_range(field, &count.to_string(), &format!("between 1 and {most}"));
            }
        }
        if frames == 0 {
            return None;
        }
        if !array.columns.is_multiple_of(frames) {
            self.fault(
                Fault::new(
                    "unequal-frames",
                    "array.frames",
                    format!("{} columns cannot be shared by {frames} equal frames", array.columns),
                )
                .hint("choose a number of frames that divides the number of columns"),
            );
            return None;
        }
        let gap = self.optional_length("array.gap", array.gap).unwrap_or(mm(20.0));
        let frame_gap = self.optional_length("array.frame_gap", array.frame_gap);
        Some(Array {
            rows: array.rows as usize,
            columns: (array.columns / frames) as usize,
            frames: frames as usize,
            orientation: array.orientation,
            gap,
            frame_gap,
        })
    }

    fn frame(&mut self, frame: &written::Frame, panel_thickness: Length) -> Option<FrameSpec> {
        let rail = self.section("frame.rail", &frame.rail);
        let stile = self.section("frame.stile", &frame.stile);
        let mullion = match &frame.mullion {
            Some(name) => self.section("frame.mullion", name),
            None => stile,
        };
        let mullion_follows = frame.mullion.is_none();
        let plies = frame.mullion_plies.unwrap_or(1);
        if !(1..=3).contains(&plies) {
            self.fault(
                Fault::new("out-of-range", "frame.mullion_plies", format!("`frame.mullion_plies` is {plies}"))
                    .hint("a mullion is built up of 1 to 3 plies"),
            );
        }
        let seating = self.seating(&frame.seating, panel_thickness);
        let brace = match &frame.corner_brace {
            None => None,
            Some(b) => {
                let section = match &b.section {
                    Some(name) => self.section("frame.corner_brace.section", name),
                    None => rail,
                };
                let leg = self.length("frame.corner_brace.leg", b.leg.0);
                let angle = b.angle.map_or(deg(45.0), |a| self.angle("frame.corner_brace.angle", a.0, 20.0, 70.0));
                Some(Brace { section: section?, follows_rail: b.section.is_none(), leg, angle })
            }
        };
        let outside_width = self.optional_length("frame.outside_width", frame.outside_width);
        let outside_length = self.optional_length("frame.outside_length", frame.outside_length);
        Some(FrameSpec {
            species: frame.species.clone(),
            grade: frame.grade.clone(),
            wood_species: self.species(frame.species.as_deref()),
            wood_grade: self.grade(frame.grade.as_deref()),
            wet_service: frame.wet_service,
            incised: frame.incised,
            treated: frame.treated,
            rail: rail?,
            stile: stile?,
            mullion: mullion?,
            mullion_follows,
            mullion_plies: plies as usize,
            seating: seating?,
            brace,
            outside_width,
            outside_length,
        })
    }

    fn seating(&mut self, seating: &written::Seating, panel_thickness: Length) -> Option<Seating> {
        let fields = [
            ("side_clearance", seating.side_clearance.is_some(), SeatingWord::Inset),
            ("end_clearance", seating.end_clearance.is_some(), SeatingWord::Inset),
            ("proud", seating.proud.is_some(), SeatingWord::Inset),
            ("lap", seating.lap.is_some(), SeatingWord::Lapped),
            ("purlin", seating.purlin.is_some(), SeatingWord::OnPurlins),
        ];
        for (field, given, kind) in fields {
            if given && kind != seating.kind {
                self.fault(
                    Fault::new(
                        "field-without-meaning",
                        format!("frame.seating.{field}"),
                        format!("`{field}` has no meaning for this kind of seating"),
                    )
                    .hint("remove the line, or change `frame.seating.kind`"),
                );
            }
        }
        match seating.kind {
            // Common practice, no source: 1/4 in at the sides where clips set the panel, 3/4 in of room at the
            // ends, 1/2 in proud so that water and leaves leave, and of a thin panel half its thickness.
            SeatingWord::Inset => Some(Seating::Inset {
                side_clearance: self
                    .optional_length("frame.seating.side_clearance", seating.side_clearance)
                    .unwrap_or(inches(0.25)),
                end_clearance: self
                    .optional_length("frame.seating.end_clearance", seating.end_clearance)
                    .unwrap_or(inches(0.75)),
                proud: self
                    .optional_length("frame.seating.proud", seating.proud)
                    .unwrap_or(inches(0.5).min(panel_thickness / 2.0)),
            }),
            SeatingWord::Lapped => Some(Seating::Lapped {
                lap: self.optional_length("frame.seating.lap", seating.lap).unwrap_or(mm(18.0)),
            }),
            SeatingWord::OnPurlins => {
                let Some(name) = &seating.purlin else {
                    self.fault(
                        Fault::new("missing-field", "frame.seating", "seating on purlins needs `frame.seating.purlin`")
                            .hint("name the section, for instance `purlin: 2x4`"),
                    );
                    return None;
                };
                Some(Seating::OnPurlins { purlin: self.section("frame.seating.purlin", name)? })
            }
        }
    }

    fn support(&mut self, support: &written::Support) -> Option<Support> {
        let bolt = self.bolt("support.bolt", support.bolt.as_ref());
        let pin = self.bolt("support.pin", support.pin.as_ref());
        let bolt_grade = self.bolt_grade(support.bolt_grade.as_deref());
        let stay = self.stay(&support.stay);
        let low_edge_clearance = self.optional_length("support.low_edge_clearance", support.low_edge_clearance);
        let base = match support.kind {
            SupportWord::Posts => self.posts(support).map(Base::Posts),
            SupportWord::Runners => self.runners(support).map(Base::Runners),
            SupportWord::Pole => {
                self.fault(
                    Fault::new("support-not-held", "support.kind", "a frame on one pole cannot be laid out yet")
                        .hint("`posts` and `runners` can"),
                );
                None
            }
        };
        Some(Support { bolt: bolt?, pin: pin?, bolt_grade: bolt_grade?, low_edge_clearance, stay: stay?, base: base? })
    }

    fn stay(&mut self, stay: &written::Stay) -> Option<StaySpec> {
        let section = self.section("support.stay.section", &stay.section);
        let cleat = match &stay.cleat {
            None => None,
            Some(name) => Some(self.section("support.stay.cleat", name)?),
        };
        Some(StaySpec {
            section: section?,
            pin_along: self.optional_length("support.stay.pin_along", stay.pin_along),
            pin_behind: self.optional_length("support.stay.pin_behind", stay.pin_behind),
            cleat,
            length: self.optional_length("support.stay.length", stay.length),
        })
    }

    fn posts(&mut self, support: &written::Support) -> Option<Posts> {
        let Some(posts) = &support.posts else {
            self.fault(
                Fault::new("missing-field", "support", "`support.posts` is missing")
                    .hint("`kind: posts` needs the block `posts:`"),
            );
            return None;
        };
        self.refuse_block("support.runners", support.runners.is_some());
        if support.stay.length.is_some() {
            self.fault(
                Fault::new(
                    "field-without-meaning",
                    "support.stay.length",
                    "a stay with its own hole row gets its length from the holes",
                )
                .hint("remove the line"),
            );
        }
        let section = self.section("support.posts.section", &posts.section);
        Some(Posts {
            placement: posts.placement,
            section: section?,
            axle_height: self.length("support.posts.axle_height", posts.axle_height.0),
            pin_below_axle: self.optional_length("support.posts.pin_below_axle", posts.pin_below_axle),
            pin_offset: self.optional_length("support.posts.pin_offset", posts.pin_offset).unwrap_or(mm(0.0)),
            embedment: self.range("support.posts.embedment", posts.embedment.0, mm(150.0), mm(4000.0)),
            hole_diameter: self
                .optional("support.posts.hole_diameter", posts.hole_diameter, mm(100.0), mm(1500.0))
                .unwrap_or(inches(12.0).max(mm(self.least_hole_mm(section?)))),
            slots_after_columns: match (posts.placement, &posts.slots_after_columns) {
                (Placement::Outside, Some(_)) => {
                    self.fault(
                        Fault::new(
                            "field-without-meaning",
                            "support.posts.slots_after_columns",
                            "posts outside the frame need no slots",
                        )
                        .hint("remove the line, or use `placement: inside`"),
                    );
                    None
                }
                (_, slots) => slots.as_ref().map(|s| s.iter().map(|n| *n as usize).collect()),
            },
        })
    }

    fn runners(&mut self, support: &written::Support) -> Option<Runners> {
        let Some(runners) = &support.runners else {
            self.fault(
                Fault::new("missing-field", "support", "`support.runners` is missing")
                    .hint("`kind: runners` needs the block `runners:`"),
            );
            return None;
        };
        self.refuse_block("support.posts", support.posts.is_some());
        let section = self.section("support.runners.section", &runners.section);
        let on = runners.on.unwrap_or(Ground::Ground);
        if on != Ground::Roof && (runners.roof_pitch.is_some() || runners.roof_facing.is_some()) {
            self.fault(
                Fault::new(
                    "field-without-meaning",
                    "support.runners",
                    "`roof_pitch` and `roof_facing` need `on: roof`",
                )
                .hint("add `on: roof`, or remove the lines"),
            );
        }
        let (pitch, facing) = self.lie_of(runners, on);
        Some(Runners {
            section: section?,
            length: self.optional_length("support.runners.length", runners.length),
            hinge_above_holes: self.optional_length("support.runners.hinge_above_holes", runners.hinge_above_holes),
            hinge_from_low_edge: self
                .optional_length("support.runners.hinge_from_low_edge", runners.hinge_from_low_edge),
            on,
            roof_pitch: pitch,
            roof_facing: facing,
            shims: runners.shims.unwrap_or(true),
            tie_downs: self.ties(runners.tie_downs.as_ref(), on),
            building: self.building(runners.building.as_ref(), on),
        })
    }

    /// Slope of what runners lie on, and the bearing it faces.
    fn lie_of(&mut self, runners: &written::Runners, on: Ground) -> (Angle, Option<Angle>) {
        const STEEPEST_GROUND_DEG: f64 = 20.0;
        let on_roof = on == Ground::Roof;
        if on_roof && (runners.ground_slope.is_some() || runners.ground_facing.is_some()) {
            self.fault(
                Fault::new(
                    "field-without-meaning",
                    "support.runners",
                    "`ground_slope` and `ground_facing` do not belong to `on: roof`",
                )
                .hint("use `roof_pitch` and `roof_facing`"),
            );
        }
        let (slope, facing, names, steepest) = if on_roof {
            (runners.roof_pitch, runners.roof_facing, ["roof_pitch", "roof_facing"], 60.0)
        } else {
            (runners.ground_slope, runners.ground_facing, ["ground_slope", "ground_facing"], STEEPEST_GROUND_DEG)
        };
        let [slope_field, facing_field] = names.map(|n| format!("support.runners.{n}"));
        if slope.is_none() && facing.is_some() {
            let sentence = format!("`{}` is given without `{}`", names[1], names[0]);
            self.fault(
                Fault::new("field-without-meaning", &facing_field, sentence)
                    .hint(format!("add `{}: …`, or remove the line", names[0])),
            );
        }
        let slope = slope.map_or(deg(0.0), |p| self.angle(&slope_field, p.0.0, 0.0, steepest));
        (slope, facing.map(|f| self.angle(&facing_field, f.0, 0.0, 360.0)))
    }

    fn refuse_block(&mut self, field: &'static str, given: bool) {
        if given {
            self.fault(
                Fault::new(
                    "field-without-meaning",
                    field,
                    format!("`{field}` does not belong to this kind of support"),
                )
                .hint("remove the block, or change `support.kind`"),
            );
        }
    }

    fn tilts(&mut self, tilts: Option<&[Written<Angle>]>, seasons: Option<u32>) -> Option<Tilts> {
        match (tilts, seasons) {
            (Some(tilts), None) => {
                if tilts.is_empty() || tilts.len() > 24 {
                    self.fault(
                        Fault::new("no-tilts", "tilts", format!("`tilts` lists {} angles", tilts.len()))
                            .hint("list 1 to 24 angles, for instance `tilts: [15 deg, 35 deg, 60 deg]`"),
                    );
                    return None;
                }
                self.refuse_thrice(tilts);
                Some(Tilts::Given(tilts.iter().map(|t| t.0).collect()))
            }
            (None, Some(seasons)) if (1..=12).contains(&seasons) => Some(Tilts::Seasons(seasons as usize)),
            (None, Some(seasons)) => {
                self.out_of_range("seasons", &seasons.to_string(), "between 1 and 12");
                None
            }
            (None, None) => {
                self.fault(
                    Fault::new("missing-field", "", "neither `tilts` nor `seasons` is given")
                        .hint("add `tilts: [15 deg, 35 deg, 60 deg]`, or `seasons: 4`"),
                );
                None
            }
            (Some(_), Some(_)) => {
                self.fault(
                    Fault::new("field-without-meaning", "seasons", "`seasons` chooses tilts, and `tilts` gives them")
                        .hint("remove one of the two lines"),
                );
                None
            }
        }
    }

    /// Spring and autumn share a tilt; no year has a third season for it.
    fn refuse_thrice(&mut self, tilts: &[Written<Angle>]) {
        let same = |one: &Angle, other: &Angle| (to_deg(*one) - to_deg(*other)).abs() < SAME_TILT_DEG;
        let mut kept: Vec<Angle> = Vec::new();
        let mut repeated = None;
        for tilt in tilts.iter().map(|t| t.0) {
            if kept.iter().filter(|other| same(other, &tilt)).count() < 2 {
                kept.push(tilt);
            } else {
                repeated = Some(tilt);
            }
        }
        if let Some(tilt) = repeated {
            let list: Vec<String> = kept.iter().map(|t| format!("{} deg", number(to_deg(*t), 2))).collect();
            self.fault(
                Fault::new("tilt-repeated", "tilts", format!("{} stands in `tilts` more than twice", angle(tilt)))
                    .hint(format!("spring and autumn may share a tilt: write `tilts: [{}]`", list.join(", "))),
            );
        }
    }

    fn shop(&mut self, shop: &written::Shop) -> Shop {
        let kerf = self.optional("shop.kerf", shop.kerf, mm(0.0), mm(10.0)).unwrap_or(inches(0.125));
        let end_trim = self.optional("shop.end_trim", shop.end_trim, mm(0.0), mm(300.0)).unwrap_or(mm(0.0));
        let mut stock = Vec::new();
        for (i, row) in shop.stock.iter().enumerate() {
            let field = |name: &str| format!("shop.stock.{i}.{name}");
            let section = self.section(&field("section"), &row.section);
            let length = self.range(&field("length"), row.length.0, mm(100.0), mm(15_000.0));
            if let Some(price) = row.price {
                self.price(&field("price"), price.amount);
            }
            let other = shop
                .stock
                .iter()
                .find(|other| other.section == row.section && other.price.is_some_and(|p| p.amount > 0.0));
            if let (None, Some(_)) = (row.price, other) {
                let sentence = format!("`price` is missing: other sticks of {} have one", row.section);
                let fault = Fault::new("missing-field", format!("shop.stock.{i}"), sentence);
                self.fault(fault.hint("give every stick of a section its price, or none of them"));
            }
            if let Some(section) = section {
                stock.push(PricedStick {
                    section,
                    length,
                    price: row.price.map(|price| price.amount),
                    available: row.available,
                });
            }
        }
        let hardware = self.hardware(&shop.hardware);
        let currency = self.currency(shop);
        Shop { kerf, end_trim, nest_mitres: shop.nest_mitres.unwrap_or(false), currency, stock, hardware }
    }
}

/// Too large or too small for the tape's own words, a length is shown plainly.
fn length_text(value: Length, units: Units) -> String {
    if to_mm(value).abs() < 1e7 { length(value, units) } else { format!("{:.3e} mm", to_mm(value)) }
}
