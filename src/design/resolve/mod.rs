//! From a file whose fields are read one by one to a design that can be laid out: defaults filled in, names looked up,
//! and what does not go together told.

mod conditions;
mod frame;
mod loads;
mod panel;
mod shop;
mod support;
mod together;

pub(crate) use together::CLIP_MM;

use super::{
    Fault, Places, WrittenBasis,
    fields::Kind,
    judge::Judge,
    model::{Array, Design, Site, Tilts},
};
use crate::quantities::{
    Angle, Latitude, Length, Longitude, Units, Written, angle, deg, mm, number, to_deg, to_inches, to_mm,
};
use serde_yaml::Value;

/// Tilts nearer than this are one tilt (deg): drawings print them alike, and a mark of the tape turns a frame as far.
/// Judgement.
pub const SAME_TILT_DEG: f64 = 0.1;

/// The design of a file, or every fault in the order of the file.
pub(super) fn resolve(root: &Value, places: &Places) -> Result<Design, Vec<Fault>> {
    let mut judge = Judge::new(root, places);
    let design = judge.design();
    match (design, judge.into_faults()) {
        (Some(design), faults) if faults.is_empty() => Ok(design),
        (None, faults) if faults.is_empty() => unreachable!("a design that cannot be read has a fault"),
        (_, faults) => Err(faults),
    }
}

impl Judge<'_> {
    fn design(&mut self) -> Option<Design> {
        self.version();
        let name = self.text("name");
        let mut loads = self.loads();
        let site = self.site(loads.as_mut());
        let panel = self.panel();
        let array = self.array();
        let frame = self.frame(panel.as_ref());
        let support = self.support();
        let tilts = self.tilts();
        let goal = self.choice_or_default("for");
        let shop = self.shop();
        let joints = self.joints();
        let soil = self.soil();
        let ballast = self.ballast();
        let serviceability = self.serviceability();
        if let (Some(frame), Some(panel)) = (&frame, &panel) {
            self.refuse_seating(frame, panel);
        }
        if let Some(frame) = &frame {
            self.refuse_gap(frame);
            self.refuse_screws(frame, &joints);
        }
        if let Some(support) = &support {
            self.refuse_hole(support);
            if let Some(frame) = &frame {
                self.refuse_cleat(frame, support);
            }
        }
        let stakes = self.stakes(support.as_ref());
        if let Some(loads) = loads.as_ref().filter(|_| self.is_fit("loads")) {
            loads.resolve("loads").err().into_iter().flatten().for_each(|fault| self.fault(fault));
        }
        Some(Design {
            name: name?,
            units: self.units(),
            units_taken: !self.is_written("units"),
            site: site?,
            panel: panel?,
            array: array?,
            frame: frame?,
            support: support?,
            tilts: tilts?,
            goal,
            shop,
            loads,
            soil,
            ballast,
            stakes,
            joints,
            serviceability,
        })
    }

    /// The format of the file is the one this program reads.
    fn version(&mut self) {
        const FIELD: &str = "tiltwright";
        let Some(given) = self.get::<u32>(FIELD) else { return };
        let known = super::fields::field(FIELD).map(|row| row.kind);
        if let Some(Kind::Count([_, newest])) = known
            && given != newest
        {
            self.fault(
                Fault::new("unknown-version", FIELD, format!("file version {given} is not known"))
                    .hint(format!("this program reads version {newest}")),
            );
        }
    }

    fn site(&mut self, loads: Option<&mut WrittenBasis>) -> Option<Site> {
        let place = self.text("site.place");
        let latitude = self.quantity::<Latitude>("site.latitude").map(|latitude| latitude.0);
        let longitude = self.quantity::<Longitude>("site.longitude").map(|longitude| longitude.0);
        let elevation = self.length("site.elevation");
        // A height that no ground has is told already.
        let loads = loads.filter(|_| self.is_fit("site.elevation") && self.is_fit("loads.elevation"));
        let elevation = self.one_elevation(elevation, loads).unwrap_or(mm(0.0));
        let facing = self.quantity::<Angle>("site.facing");
        let latitude = latitude?;
        let facing = facing.unwrap_or_else(|| deg(if to_deg(latitude) >= 0.0 { 180.0 } else { 0.0 }));
        Some(Site { place: place?, latitude, longitude, elevation, facing })
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
            let units = self.units();
            let l = |value| match units {
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

    fn array(&mut self) -> Option<Array> {
        let (rows, columns) = (self.count("array.rows"), self.count("array.columns"));
        let frames = self.count_or_default("array.frames");
        let orientation = self.choice("array.orientation");
        let gap = self.quantity_or_default("array.gap");
        let frame_gap = self.length("array.frame_gap");
        let columns = columns?;
        if frames == 0 {
            return None;
        }
        if !columns.is_multiple_of(frames) {
            self.fault(
                Fault::new(
                    "unequal-frames",
                    "array.frames",
                    format!("{columns} columns cannot be shared by {frames} equal frames"),
                )
                .hint("choose a number of frames that divides the number of columns"),
            );
            return None;
        }
        Some(Array {
            rows: rows? as usize,
            columns: (columns / frames) as usize,
            frames: frames as usize,
            orientation: orientation?,
            gap,
            frame_gap,
        })
    }

    fn tilts(&mut self) -> Option<Tilts> {
        match (self.is_written("tilts"), self.is_written("seasons")) {
            (true, false) => self.given_tilts(),
            (false, true) => self.count("seasons").map(|seasons| Tilts::Seasons(seasons as usize)),
            (false, false) => {
                self.fault(
                    Fault::new("missing-field", "", "neither `tilts` nor `seasons` is given")
                        .hint("add `tilts: [15 deg, 35 deg, 60 deg]`, or `seasons: 4`"),
                );
                None
            }
            (true, true) => {
                self.fault(
                    Fault::new("field-without-meaning", "seasons", "`seasons` chooses tilts, and `tilts` gives them")
                        .hint("remove one of the two lines"),
                );
                None
            }
        }
    }

    fn given_tilts(&mut self) -> Option<Tilts> {
        let tilts: Vec<Angle> = self.list::<Written<Angle>>("tilts")?.into_iter().map(|tilt| tilt.0).collect();
        let row = super::fields::field("tilts")?;
        let Kind::Angles([least, most]) = row.kind else { return None };
        if !(least..=most).contains(&tilts.len()) {
            self.fault(
                Fault::new("no-tilts", "tilts", format!("`tilts` lists {} angles", tilts.len()))
                    .hint(format!("list {least} to {most} angles, for instance `tilts: {}`", row.example)),
            );
            return None;
        }
        self.refuse_thrice(&tilts);
        Some(Tilts::Given(tilts))
    }

    /// Spring and autumn share a tilt; no year has a third season for it.
    fn refuse_thrice(&mut self, tilts: &[Angle]) {
        let same = |one: &Angle, other: &Angle| (to_deg(*one) - to_deg(*other)).abs() < SAME_TILT_DEG;
        let mut kept: Vec<Angle> = Vec::new();
        let mut repeated = None;
        for &tilt in tilts {
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
}

#[cfg(test)]
mod tests {
    use super::super::{
        READY, fields,
        fields::{Kind, LeftOut},
        own_units::own_units,
        read_text,
    };
    use super::*;
    use std::collections::BTreeSet;

    /// Texts that between them have every kind of support and seating, as trees.
    fn bases() -> Vec<Value> {
        let changed = |name: &str, from: &str, to: &str| {
            let text = READY.iter().find(|(ready, _)| *ready == name).expect("a ready design").1;
            assert!(text.contains(from), "{name}");
            text.replace(from, to)
        };
        // A roof that faces somewhere has a pitch; this one may leave it out.
        let roof = changed("runners-roof", "    roof_facing: 215 deg\n", "");
        let texts = READY.iter().map(|(_, text)| (*text).to_string()).chain([roof]);
        texts.map(|text| serde_yaml::from_str(&text).expect("a ready design")).collect()
    }

    /// Puts a value at a path; blocks and rows on the way there are the examples of their fields.
    fn put(root: &mut Value, path: &str, value: Value) {
        let (mut node, mut so_far) = (root, String::new());
        let parts: Vec<&str> = path.split('.').collect();
        for (at, part) in parts.iter().enumerate() {
            so_far = if so_far.is_empty() { (*part).to_string() } else { format!("{so_far}.{part}") };
            let name = part.trim_end_matches("[]");
            let block = node.as_mapping_mut().expect("a block");
            if at + 1 == parts.len() {
                block.insert(name.into(), value);
                return;
            }
            let field = fields::field(so_far.trim_end_matches("[]")).expect("a row");
            let example = || serde_yaml::from_str(field.example).expect("an example");
            node = block.entry(name.into()).or_insert_with(example);
            if part.ends_with("[]") {
                node = node.get_mut(0).expect("a first row");
            }
        }
    }

    fn faults(root: &Value) -> Vec<Fault> {
        resolve(root, &Places::default()).err().unwrap_or_default()
    }

    /// A value that no field takes is told at each field of the table: so each is read. What is read and has no row stops
    /// the reader.
    #[test]
    fn every_row_of_the_table_is_read() {
        let leaves = || fields::all().filter(|f| !matches!(f.kind, Kind::Block | Kind::Choices));
        let mut told = BTreeSet::new();
        for base in bases() {
            for field in leaves().filter(|field| !told.contains(field.path)).collect::<Vec<_>>() {
                let mut root = base.clone();
                // A design has one of the two.
                root.as_mapping_mut().expect("a design").remove(if field.path == "seasons" { "tilts" } else { "" });
                put(&mut root, field.path, serde_yaml::from_str("{unfit: 1}").expect("a block"));
                let own = field.path.replace("[]", ".0");
                if faults(&root).iter().any(|fault| fault.field == own && fault.code == "bad-value") {
                    told.insert(field.path);
                }
            }
        }
        let unread: Vec<&str> = leaves().map(|field| field.path).filter(|path| !told.contains(path)).collect();
        assert_eq!(unread, Vec::<&str>::new(), "rows that nobody reads");
    }

    /// Every word of a row stands for something, and every other is refused.
    #[test]
    fn every_word_of_the_table_is_known_to_its_reader() {
        for field in fields::all() {
            let Kind::Words(words) = field.kind else { continue };
            for base in bases() {
                for word in words {
                    let mut root = base.clone();
                    put(&mut root, field.path, (*word).into());
                    let own = field.path.replace("[]", ".0");
                    let refused = faults(&root).into_iter().find(|f| f.field == own && f.code == "unknown-value");
                    assert_eq!(refused, None, "{}: {word}", field.path);
                }
            }
        }
    }

    /// What the table says of a field that is left out, the design has: written out it changes nothing.
    #[test]
    fn a_default_written_out_changes_nothing() {
        let design = |root: &Value| resolve(root, &Places::default()).map(|design| format!("{design:?}"));
        let mut same = BTreeSet::new();
        let defaults = || {
            fields::all().filter_map(|field| match field.left_out {
                LeftOut::Default(value) => Some((field.path, value)),
                _ => None,
            })
        };
        for base in bases() {
            for (path, value) in defaults() {
                let mut root = base.clone();
                put(&mut root, path, value.into());
                let mut without = root.clone();
                put(&mut without, path, Value::Null);
                put(&mut root, path, serde_yaml::from_str(value).expect("a default"));
                if let (Ok(with), Ok(without)) = (design(&root), design(&without)) {
                    assert_eq!(with, without, "{path}: {value}");
                    same.insert(path);
                }
            }
        }
        // What has a default is optional, so each was left out somewhere.
        let never: Vec<&str> = defaults().map(|(path, _)| path).filter(|path| !same.contains(path)).collect();
        assert_eq!(never, Vec::<&str>::new());
    }

    #[test]
    fn units_are_told_by_what_is_written() {
        let text = READY.iter().find(|(name, _)| *name == "sample").expect("the sample").1;
        let read = read_text("x.yaml", &text.replace("units: us\n", "")).expect("it reads").design;
        assert!(read.units_taken && read.units == own_units(&serde_yaml::from_str(text).expect("YAML")));
    }
}
