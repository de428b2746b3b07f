//! Random designs as YAML, for the properties of frames.

use proptest::prelude::*;

/// The measures of a random design (mm, deg).
#[derive(Debug, Clone)]
pub(crate) struct Random {
    /// Long and short side of the panel.
    pub(crate) panel: [f64; 2],
    pub(crate) columns: usize,
    pub(crate) rows: usize,
    pub(crate) inside: bool,
    pub(crate) behind: f64,
    pub(crate) offset: f64,
    pub(crate) axle: f64,
    pub(crate) tilts: [f64; 3],
    pub(crate) slope: f64,
    pub(crate) seating: usize,
    pub(crate) leg: f64,
    pub(crate) angle: f64,
    pub(crate) us: bool,
}

/// Measures over the sizes that small frames have.
pub(crate) fn random() -> impl Strategy<Value = Random> {
    let size = (900.0..2100.0f64, 500.0..1140.0f64);
    let tilts = (8.0..25.0f64, 12.0..22.0f64, 12.0..22.0f64);
    let counts = (1usize..=4, 1usize..=2, any::<bool>(), any::<bool>(), 0usize..3);
    let pins = (-18.0..18.0f64, -15.0..15.0f64, 0.0..400.0f64, -6.0..12.0f64);
    let brace = (170.0..230.0f64, 38.0..52.0f64);
    (size, counts, pins, tilts, brace).prop_map(|(size, counts, pins, tilts, brace)| {
        let (long, short) = (size.0.max(size.1 + 10.0), size.1);
        let rows = counts.1;
        Random {
            panel: [long.round(), short.round()],
            columns: counts.0,
            rows,
            inside: counts.2,
            behind: pins.0.round(),
            offset: pins.1.round(),
            axle: (long * rows as f64 * 0.52 + 350.0 + pins.2).round(),
            tilts: [tilts.0, tilts.0 + tilts.1, tilts.0 + tilts.1 + tilts.2].map(|t| (t * 10.0).round() / 10.0),
            slope: pins.3.round(),
            seating: counts.4,
            leg: brace.0.round(),
            angle: brace.1.round(),
            us: counts.3,
        }
    })
}

impl Random {
    fn head(&self) -> String {
        let seating = match self.seating {
            0 => "{kind: inset}",
            1 => "{kind: lapped, lap: 20 mm}",
            _ => "{kind: on-purlins, purlin: 38x89}",
        };
        format!(
            "tiltwright: 1\nname: random\nunits: metric\nsite: {{place: Nowhere, latitude: 45 deg, facing: 180 deg}}\n\
             panel: {{long_side: {} mm, short_side: {} mm, thickness: 30 mm, mass: 20 kg, \
             mounting_holes: {{along_long_side: {} mm, across: {} mm, diameter: 9 mm}}}}\n\
             array: {{rows: {}, columns: {}, orientation: portrait}}\n\
             frame:\n  rail: 38x140\n  stile: 38x140\n  mullion_plies: 2\n  seating: {seating}\n  \
             corner_brace: {{section: 38x89, leg: {} mm, angle: {} deg}}\n",
            self.panel[0],
            self.panel[1],
            (self.panel[0] * 0.6).round(),
            (self.panel[1] * 0.8).round(),
            self.rows,
            self.columns,
            self.leg,
            self.angle
        )
    }

    /// The design on posts.
    pub(crate) fn on_posts(&self) -> String {
        let placement = if self.inside { "inside" } else { "outside" };
        format!(
            "{}support:\n  kind: posts\n  stay: {{section: 38x89, pin_behind: {} mm}}\n  posts: {{placement: {placement}, \
             section: 89x140, axle_height: {} mm, pin_offset: {} mm, embedment: 1000 mm}}\ntilts: [{}]\n",
            self.head(),
            self.behind,
            self.axle,
            self.offset,
            self.tilt_list(0.0)
        )
    }

    /// The design on runners on a roof that rises, or falls, away from the low edge.
    pub(crate) fn on_runners(&self) -> String {
        let facing = if self.slope < 0.0 { 0 } else { 180 };
        format!(
            "{}support:\n  kind: runners\n  stay: {{section: 38x89, pin_behind: {} mm}}\n  runners: {{section: 38x184, on: roof, \
             roof_pitch: {} deg, roof_facing: {facing} deg}}\ntilts: [{}]\n",
            self.head(),
            self.behind,
            self.slope.abs(),
            self.tilt_list(self.slope.max(0.0))
        )
    }

    fn tilt_list(&self, more: f64) -> String {
        self.tilts.map(|t| format!("{} deg", t + more)).join(", ")
    }

    /// The tape the design is laid out with: either, whatever its sections.
    pub(crate) fn units(&self) -> tiltwright::quantities::Units {
        if self.us { tiltwright::quantities::Units::Us } else { tiltwright::quantities::Units::Metric }
    }
}
