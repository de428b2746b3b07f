//! The basis of the loads as a design file has it. Every entry is required; none is guessed.

use super::basis::{
    Around, AsceWind, Below, Edition, EnWind, Exposure, Form, LoadBasis, RiskCategory, ServiceSnow, SnowBasis,
    SnowSite, StrengthSnow, Terrain, WindBasis,
};
use super::{fault::Fault, fields, judge::Judge, read::read_tree};
use crate::quantities::{Length, Pressure, Units, Velocity, Written, to_mm, to_mps, to_pa};
use serde_yaml::Value;

/// Load basis as it stands in a design file.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenBasis {
    /// The document.
    pub edition: Option<Edition>,
    /// Ultimate (strength-level) 3-second gust at 33 ft, exposure C, for the risk category. ASCE 7 only.
    pub gust: Option<Written<Velocity>>,
    /// Fundamental basic wind velocity v_b,0: 10-minute mean at 10 m, terrain II, 50 years. EN 1991 only.
    pub basic_wind: Option<Written<Velocity>>,
    /// ASCE 7 exposure.
    pub exposure: Option<Exposure>,
    /// EN 1991 terrain category.
    pub terrain: Option<Terrain>,
    /// Risk category. ASCE 7 only.
    pub risk_category: Option<RiskCategory>,
    /// Height of the ground above the sea.
    pub elevation: Option<Written<Length>>,
    /// Speed-up over hills and escarpments: K_zt of ASCE 7, on the pressure; c_0 of EN 1991, on the velocity. 1 on flat ground.
    pub topography: Option<f64>,
    /// Ground snow.
    pub snow: Option<WrittenSnow>,
    /// The panel maker's rated design loads.
    pub panel_design_load: Option<WrittenPanelLoad>,
    /// What stands below the frame.
    pub below: Below,
    /// Printed form of the ASCE equations.
    pub form: Form,
}

/// Ground snow as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WrittenSnow {
    /// The edition whose map the value was read from.
    pub edition: Option<Edition>,
    /// Ground snow load.
    pub ground: Option<Written<Pressure>>,
    /// What shelters the frame from wind that would blow the snow away. ASCE 7 only.
    pub around: Option<Around>,
    /// Does snow slide off the low edge freely: no lip, no clamp in the way, the edge clear of the ground? Taken as no
    /// where nothing is written, which is the heavier load.
    pub slides_off: bool,
}

/// Rated panel loads as written: *design* values, not test values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WrittenPanelLoad {
    /// Pressing on the face.
    pub face: Option<Written<Pressure>>,
    /// Lifting from the back.
    pub back: Option<Written<Pressure>>,
}

impl WrittenBasis {
    /// A load basis from a text of its own.
    ///
    /// # Errors
    /// Every fault of the text.
    pub fn read_text(file: &str, text: &str) -> Result<Self, Vec<Fault>> {
        let (loads, places) = read_tree(file, text)?;
        let root = Value::Mapping([("loads".into(), loads)].into_iter().collect());
        let mut judge = Judge::of_block(&root, &places, "loads");
        let basis = judge.loads();
        match (basis, judge.into_faults()) {
            (Some(basis), faults) if faults.is_empty() => Ok(basis),
            (_, faults) => Err(faults),
        }
    }

    /// The validated basis.
    ///
    /// `field` is the path of this part of the design file (`loads`), put before the field of each fault.
    ///
    /// # Errors
    /// Every fault at once: entries that are missing, that belong to the other family of standards, that no place on
    /// earth has, or a snow value read from another edition's map than the wind.
    pub fn resolve(&self, field: &str) -> Result<LoadBasis, Vec<Fault>> {
        let mut faults = Faults { field, list: Vec::new() };
        let edition = faults.need(
            self.edition,
            "edition",
            "asce7-10, asce7-16, asce7-22 or en1991: ask your building office which one it has adopted",
        );
        let elevation = faults
            .need(self.elevation, "elevation", "the height of the ground above the sea, for instance `300 ft`")
            .map(|w| w.0);
        if let Some(e) = elevation {
            faults.within("elevation", to_mm(e));
        }
        let topography = faults.need(
            self.topography,
            "topography",
            "1 on flat ground; on a hill, ridge or escarpment the factor K_zt of ASCE 7 §26.8 (c_0 with en1991)",
        );
        if let Some(t) = topography {
            faults.within("topography", t);
        }
        let wind = match edition {
            None => None,
            Some(Edition::En1991) => self.en_wind(&mut faults, elevation, topography),
            Some(edition) => self.asce_wind(&mut faults, edition, elevation, topography),
        };
        let snow = edition.and_then(|edition| self.snow_basis(&mut faults, edition));
        let panel = self.panel(&mut faults);
        match (wind, snow, panel) {
            (Some(wind), Some(snow), Some(panel_design_load)) if faults.list.is_empty() => {
                Ok(LoadBasis { wind, snow, panel_design_load, below: self.below })
            }
            _ => Err(faults.list),
        }
    }

    fn asce_wind(
        &self,
        faults: &mut Faults<'_>,
        edition: Edition,
        elevation: Option<Length>,
        k_zt: Option<f64>,
    ) -> Option<WindBasis> {
        faults.foreign(
            self.basic_wind.is_some(),
            "basic_wind",
            "a 10-minute mean is no gust: with ASCE 7 give `gust`, the ultimate 3-second gust",
        );
        faults.foreign(self.terrain.is_some(), "terrain", "with ASCE 7 give `exposure: B`, `C` or `D`");
        let gust = faults.need(
            self.gust,
            "gust",
            "the ultimate (strength-level) 3-second gust of your risk category, for instance `115 mph`",
        );
        let exposure = faults.need(self.exposure, "exposure", "B suburban, C open country, D open water; C if unsure");
        let risk = faults.need(
            self.risk_category,
            "risk_category",
            "I low hazard, II everything else, III substantial, IV essential",
        );
        if let Some(gust) = gust {
            faults.within("gust", to_mps(gust.0));
        }
        Some(WindBasis::Asce(AsceWind {
            edition,
            gust: gust?.0,
            exposure: exposure?,
            risk: risk?,
            elevation: elevation?,
            k_zt: k_zt?,
            form: self.form,
        }))
    }

    fn en_wind(&self, faults: &mut Faults<'_>, elevation: Option<Length>, c_0: Option<f64>) -> Option<WindBasis> {
        faults.foreign(self.gust.is_some(), "gust", "a 3-second gust is no 10-minute mean: with en1991 give `basic_wind`, the fundamental basic wind velocity v_b,0");
        faults.foreign(
            self.exposure.is_some(),
            "exposure",
            "with en1991 give `terrain: sea`, `I`, `II`, `III` or `IV`",
        );
        faults.foreign(self.risk_category.is_some(), "risk_category", "EN 1991 has no risk category; leave it out");
        let basic = faults.need(
            self.basic_wind,
            "basic_wind",
            "the fundamental basic wind velocity v_b,0 of the national map, for instance `26 m/s`",
        );
        let terrain = faults.need(
            self.terrain,
            "terrain",
            "sea (category 0), I lake or flat, II low cover, III villages and forest, IV town",
        );
        if let Some(basic) = basic {
            faults.within("basic_wind", to_mps(basic.0));
        }
        Some(WindBasis::En(EnWind { basic: basic?.0, terrain: terrain?, c_0: c_0?, elevation: elevation? }))
    }

    fn snow_basis(&self, faults: &mut Faults<'_>, edition: Edition) -> Option<SnowBasis> {
        let snow = faults.need(
            self.snow,
            "snow",
            "`{edition: asce7-16, ground: 25 psf, around: partially-exposed}`; `ground: 0 psf` where it never snows",
        )?;
        let of = faults.need(
            snow.edition,
            "snow.edition",
            "the edition whose map gave the ground snow load: 7-16 and 7-22 maps are not on one level",
        );
        let ground = faults.need(snow.ground, "snow.ground", "the ground snow load, for instance `25 psf`");
        if let Some(ground) = ground {
            faults.within("snow.ground", to_pa(ground.0));
        }
        let (of, ground) = (of?, ground?.0);
        let service = |e| matches!(e, Edition::Asce710 | Edition::Asce716);
        if of != edition && !(service(of) && service(edition)) {
            let sentence = format!("ground snow of {} cannot go with loads of {}", of.document(), edition.document());
            faults.push(
                "snow-edition-mixed",
                "snow.edition",
                sentence,
                &format!("read the ground snow load from the map of {}, or change `edition`", edition.document()),
            );
            return None;
        }
        if of == Edition::En1991 {
            return Some(SnowBasis::Characteristic(ground));
        }
        // Where it never snows, shelter does not matter.
        let around = if to_pa(ground) > 0.0 {
            faults.need(snow.around, "snow.around", "fully-exposed, partially-exposed or sheltered")
        } else {
            Some(Around::PartiallyExposed)
        };
        let (risk, exposure) = (self.risk_category?, self.exposure?);
        let site = SnowSite { exposure, around: around?, slides_off: snow.slides_off };
        Some(if of == Edition::Asce722 {
            SnowBasis::Strength(StrengthSnow { ground, risk, site })
        } else {
            SnowBasis::Service(ServiceSnow { ground, risk, site })
        })
    }

    fn panel(&self, faults: &mut Faults<'_>) -> Option<[Pressure; 2]> {
        const HELP: &str = "the panel maker's *design* load for your mounting points; a test load divided by 1.5 (2400 Pa tested is 1600 Pa design)";
        let panel = faults.need(self.panel_design_load, "panel_design_load", HELP)?;
        let face = faults.need(panel.face, "panel_design_load.face", HELP);
        let back = faults.need(panel.back, "panel_design_load.back", HELP);
        for (name, load) in [("panel_design_load.face", face), ("panel_design_load.back", back)] {
            if let Some(load) = load {
                faults.within(name, to_pa(load.0));
            }
        }
        Some([face?.0, back?.0])
    }
}

struct Faults<'a> {
    field: &'a str,
    list: Vec<Fault>,
}

impl Faults<'_> {
    fn push(&mut self, code: &'static str, name: &str, sentence: String, hint: &str) {
        let field = if self.field.is_empty() { name.to_string() } else { format!("{}.{name}", self.field) };
        self.list.push(Fault::new(code, field, sentence).hint(hint));
    }

    fn need<V>(&mut self, value: Option<V>, name: &str, hint: &str) -> Option<V> {
        if value.is_none() {
            self.push(
                "load-basis-missing",
                name,
                format!("the load basis has no `{name}`, and it is never guessed"),
                hint,
            );
        }
        value
    }

    fn foreign(&mut self, given: bool, name: &str, hint: &str) {
        if given {
            self.push("load-basis-mixed", name, format!("`{name}` does not belong to this edition"), hint);
        }
    }

    /// Is a value in the base unit of its kind within the range of its row?
    fn within(&mut self, name: &str, value: f64) {
        let Some(row) = fields::field(&format!("loads.{name}")) else { return };
        if !row.kind.takes(value) {
            let units = Units::Us;
            let range = row.kind.range_words(units).unwrap_or_default();
            let sentence = format!("`{name}` is {}, not {range}", row.kind.show(value, units));
            self.push("load-basis-range", name, sentence, &format!("give a value {range}"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    const COMPLETE: &str = "edition: asce7-16\ngust: 115 mph\nexposure: C\nrisk_category: II\nelevation: 300 ft\ntopography: 1\n\
        snow: {edition: asce7-16, ground: 25 psf, around: partially-exposed}\npanel_design_load: {face: 3600 Pa, back: 1600 Pa}\n";

    fn written(text: &str) -> WrittenBasis {
        WrittenBasis::read_text("loads.yaml", text).unwrap_or_else(|e| panic!("{e:?}"))
    }

    fn fields(text: &str) -> Vec<(String, &'static str)> {
        written(text).resolve("loads").expect_err("a fault").into_iter().map(|f| (f.field, f.code)).collect()
    }

    #[test]
    fn a_complete_basis_is_accepted() {
        let basis = written(COMPLETE).resolve("loads").expect("complete");
        assert_eq!(basis.below, Below::Undeclared);
        assert!(matches!(basis.snow, SnowBasis::Service(_)));
    }

    #[test]
    fn each_missing_entry_is_named() {
        for name in
            ["edition", "gust", "exposure", "risk_category", "elevation", "topography", "snow", "panel_design_load"]
        {
            let text: String = COMPLETE.lines().filter(|l| !l.starts_with(name)).map(|l| format!("{l}\n")).collect();
            let found = fields(&text);
            assert!(found.contains(&(format!("loads.{name}"), "load-basis-missing")), "{name}: {found:?}");
        }
    }

    #[test]
    fn snow_and_wind_of_two_levels_do_not_mix() {
        let mixed = COMPLETE.replace("snow: {edition: asce7-16", "snow: {edition: asce7-22");
        assert_eq!(fields(&mixed), [("loads.snow.edition".to_string(), "snow-edition-mixed")]);
    }

    #[test]
    fn a_gust_is_not_taken_for_a_mean_wind() {
        let found = fields(&COMPLETE.replace("gust: 115 mph", "basic_wind: 26 m/s"));
        assert!(found.contains(&("loads.basic_wind".to_string(), "load-basis-mixed")), "{found:?}");
    }

    #[test]
    fn a_place_without_snow_needs_no_shelter() {
        let text = COMPLETE.replace("ground: 25 psf, around: partially-exposed", "ground: 0 psf");
        assert!(written(&text).resolve("loads").is_ok());
        let text = COMPLETE.replace(", around: partially-exposed", "");
        assert_eq!(fields(&text), [("loads.snow.around".to_string(), "load-basis-missing")]);
    }

    #[test]
    fn a_european_basis_has_its_own_entries() {
        let text = "edition: en1991\nbasic_wind: 26 m/s\nterrain: III\nelevation: 100 m\ntopography: 1\n\
            snow: {edition: en1991, ground: 0.9 kPa}\npanel_design_load: {face: 3600 Pa, back: 1600 Pa}\n";
        assert!(matches!(written(text).resolve("loads").expect("complete").wind, WindBasis::En(_)));
        let mixed = text.replace("terrain: III", "terrain: III\nexposure: C");
        assert_eq!(fields(&mixed), [("loads.exposure".to_string(), "load-basis-mixed")]);
    }

    #[test]
    fn no_wind_at_all_is_refused() {
        let faults = written(&COMPLETE.replace("115 mph", "0 mph")).resolve("loads").expect_err("no wind");
        assert_eq!(faults[0].sentence, "`gust` is 0 mph, not between 60 mph and 300 mph");
        let faults = written(&COMPLETE.replace("topography: 1", "topography: 0.4")).resolve("").expect_err("below 1");
        assert_eq!(
            (faults[0].field.as_str(), faults[0].sentence.as_str()),
            ("topography", "`topography` is 0.4, not between 1 and 5")
        );
        assert_eq!(fields(&COMPLETE.replace("115 mph", "0 mph")), [("loads.gust".to_string(), "load-basis-range")]);
    }
}
