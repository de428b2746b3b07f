//! All load cases on the surface at one tilt.

use super::asce7::{
    MINIMUM_PA, MINIMUM_SOURCE, VelocityPressure, record_gust_factor, rigid, wind_bare,
    wind_components::{self, ComponentPressure, Zone},
    wind_open::{self, FigureCase, Flow, WindOn},
    wind_roof::{self, Roof, RoofPanels},
    wind_sign::{self, Sign},
};
use super::record::{ALONG_STRIPS, record_height, record_lean, record_least, record_sign};
use super::{
    Across, Action, BareWind, Case, Envelope, Load, RangeState, Refusal, Surface, SurfaceLoad, WindFrom, dead, en1991,
    handling, snow,
};
use crate::catalogue::{Source, Trace};
use crate::design::{AsceWind, Below, Edition, LoadBasis, SnowBasis, WindBasis};

/// What the frame stands on, as the wind clauses see it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stand {
    /// The ground.
    Ground,
    /// A flat or low-slope roof.
    Roof(Roof),
}

/// Everything that loads the surface at one tilt.
#[derive(Debug, Clone, PartialEq)]
pub struct TiltLoads {
    /// The surface.
    pub surface: Surface,
    /// Edition of the wind load.
    pub edition: Edition,
    /// The cases, self weight first.
    pub cases: Vec<Case>,
    /// Rows for which no load is given.
    pub refused: Vec<Refusal>,
    /// Velocity pressure the wind cases rest on \[Pa\].
    pub q_pa: f64,
    /// Wind on members that no panel covers; it goes along with every wind case. Nothing where no clause applies.
    pub bare: Option<BareWind>,
    /// Component pressures.
    components: Components,
}

#[derive(Debug, Clone, PartialEq)]
enum Components {
    /// ASCE 7 on the ground.
    Asce { q: VelocityPressure, below: Below },
    /// EN 1991.
    En { q_pa: f64, below: Below },
    /// Rooftop clause: one pressure serves frame and components.
    Roof { onto_pa: f64, off_pa: f64 },
    /// No wind clause applies.
    Refused,
}

/// Gathers every load case of the surface.
///
/// # Units
/// `panels_kg` is the mass of all panels \[kg\].
///
/// # Source
/// Each case carries its own.
pub fn gather<T: Trace>(
    basis: &LoadBasis,
    surface: &Surface,
    stand: &Stand,
    panels_kg: f64,
    trace: &mut T,
) -> TiltLoads {
    let mut loads = TiltLoads {
        surface: *surface,
        edition: Edition::En1991,
        cases: vec![dead::panel_weight(surface, panels_kg)],
        refused: Vec::new(),
        q_pa: 0.0,
        bare: None,
        components: Components::Refused,
    };
    match (&basis.wind, stand) {
        (WindBasis::Asce(wind), Stand::Ground) => loads.wind_on_ground(wind, basis.below, trace),
        (WindBasis::Asce(wind), Stand::Roof(roof)) => loads.wind_on_roof(wind, roof, trace),
        (WindBasis::En(wind), Stand::Ground) => {
            trace.chapter(|| ("wind".to_string(), "peak velocity pressure, the same for every wind case".to_string()));
            let q_pa = en1991::wind::peak_pressure(wind, surface.high_edge_mm(), trace);
            loads.q_pa = q_pa;
            loads.components = Components::En { q_pa, below: basis.below };
            loads.cases.extend(en1991::canopy::wind_cases(surface, q_pa, basis.below, trace));
            trace.chapter(|| ("wind-bare".to_string(), "wind on bare members, flat and round".to_string()));
            let bare = en1991::canopy::bare_members(q_pa, trace);
            loads.bare_cases(bare, &[en1991::canopy::MEMBERS]);
        }
        (WindBasis::En(_), Stand::Roof(_)) => loads.refused.push(refusal(
            "wind",
            "wind on the surface",
            "no EN clause held covers panels standing off a roof",
            "have an engineer give the wind pressure",
        )),
    }
    loads.cases.extend(match &basis.snow {
        SnowBasis::Service(service) => snow::snow_cases(service, surface, trace),
        SnowBasis::Strength(strength) => snow::snow_cases(strength, surface, trace),
        SnowBasis::Characteristic(ground) => en1991::snow::snow_cases(*ground, surface, trace),
    });
    loads.cases.extend(handling::leaning_cases());
    loads
}

impl TiltLoads {
    /// Takes every wind case out when the frame sways too slowly for the rigid gust factor.
    pub fn refuse_if_flexible(&mut self, frequency_hz: f64) {
        let RangeState::Refused(why) = rigid(frequency_hz) else { return };
        let why = if self.edition == Edition::En1991 {
            let found = crate::quantities::number(frequency_hz, 2);
            format!(
                "the frame sways at {found} Hz; a structural factor c_s c_d for gusts that build up the sway is not encoded"
            )
        } else {
            why
        };
        let (wind, rest): (Vec<Case>, Vec<Case>) = self.cases.drain(..).partition(|c| c.action == Action::Wind);
        self.cases = rest;
        self.components = Components::Refused;
        self.bare = None;
        self.refused.extend(wind.into_iter().map(|case| Refusal {
            id: case.id,
            name: case.name,
            why: why.clone(),
            way_out: "make the post or pole stiffer: a larger pipe, a lower frame, or a second stay".to_string(),
        }));
    }

    /// Net pressure on a component lying on a patch of the surface (shares of slope and width), with its effective wind
    /// area \[mm²\]; nothing where no clause applies.
    pub fn component<T: Trace>(
        &self,
        u: [f64; 2],
        x: [f64; 2],
        area_mm2: f64,
        trace: &mut T,
    ) -> Option<ComponentPressure> {
        match self.components {
            Components::Asce { q, below } => {
                let a = wind_components::strip_width_mm(&self.surface, &mut crate::catalogue::Silent);
                let zone = wind_components::zone_of(&self.surface, a, u, x);
                Some(wind_components::component_pressure(&self.surface, q, flows(below), zone, area_mm2, trace))
            }
            Components::En { q_pa, below } => {
                Some(en1991::canopy::component_pressure(&self.surface, q_pa, below, u, x, area_mm2, trace))
            }
            Components::Roof { onto_pa, off_pa } => Some(ComponentPressure {
                zone: Zone::Corner,
                area_mm2,
                onto_face_pa: onto_pa.max(MINIMUM_PA),
                off_face_pa: off_pa.max(MINIMUM_PA),
                state: RangeState::Published,
                sources: vec![wind_roof::FIGURE, wind_roof::FACTORS, wind_roof::AREA, wind_components::MINIMUM_SOURCE],
            }),
            Components::Refused => None,
        }
    }

    fn wind_on_ground<T: Trace>(&mut self, wind: &AsceWind, below: Below, trace: &mut T) {
        self.edition = wind.edition;
        let surface = self.surface;
        // A sign takes the pressure at its top; with it the judgement envelope never falls below the sign's force.
        trace.chapter(|| ("wind".to_string(), "velocity pressure, the same for every wind case".to_string()));
        record_height(wind.form, &surface, trace);
        let q = VelocityPressure::at(wind, surface.pressure_height_mm(), trace);
        record_gust_factor(trace);
        self.q_pa = q.q_pa;
        self.components = Components::Asce { q, below };
        let sign = sign_of(&surface);
        let c_f = sign.map_or(0.0, |s| {
            record_sign(&s, trace);
            wind_sign::force_coefficient(s.aspect(), s.clearance(), trace)
        });
        for flow in flows(below) {
            for on in [WindOn::Face, WindOn::Back] {
                for figure_case in [FigureCase::A, FigureCase::B] {
                    self.across_wind(q, on, *flow, figure_case, c_f, trace);
                }
            }
            for figure_case in [FigureCase::A, FigureCase::B] {
                self.along_wind(q, *flow, figure_case, trace);
            }
        }
        if let Some(sign) = sign {
            self.grounded_sign(q, &sign, c_f, trace);
            self.oblique_wind(q, &sign, trace);
        }
        self.minimum_wind(q, trace);
        self.bare_wind(q, trace);
    }

    /// Wind on the frame before its panels are on, from four sides. The largest coefficient of the lattice figure over its
    /// solidities is taken, so that the share of solid area need not be known.
    fn bare_wind<T: Trace>(&mut self, q: VelocityPressure, trace: &mut T) {
        trace.chapter(|| ("wind-bare".to_string(), "wind on bare members, flat and round".to_string()));
        let bare = BareWind {
            flat_pa: wind_bare::bare_pressure(q, wind_bare::LARGEST_FLAT, wind_bare::LATTICE, trace),
            round_pa: wind_bare::bare_pressure(q, wind_bare::LARGEST_ROUND, wind_bare::LATTICE, trace),
        };
        self.bare_cases(bare, &[wind_bare::LATTICE, MINIMUM_SOURCE]);
    }

    fn bare_cases(&mut self, bare: BareWind, sources: &[Source]) {
        self.bare = Some(bare);
        for (from, words) in
            [(WindFrom::Front, "front"), (WindFrom::Back, "back"), (WindFrom::Left, "left"), (WindFrom::Right, "right")]
        {
            self.cases.push(Case {
                id: format!("wind-bare-{words}"),
                name: format!("wind on the bare members from the {words}"),
                action: Action::Wind,
                wind_from: Some(from),
                state: RangeState::Published,
                sources: sources.to_vec(),
                load: Load::Bare(bare),
            });
        }
    }

    fn across_wind<T: Trace>(
        &mut self,
        q: VelocityPressure,
        on: WindOn,
        flow: Flow,
        figure_case: FigureCase,
        c_f: f64,
        trace: &mut T,
    ) {
        let surface = self.surface;
        let (side, edge) = match on {
            WindOn::Face => ("face", "wind on the face"),
            WindOn::Back => ("back", "wind on the back"),
        };
        let (flow_id, flow_name) = flow_words(flow);
        let (case_id, case_name) = case_words(figure_case);
        let id = format!("wind-{side}-{flow_id}-{case_id}");
        let name = format!("{edge}, {flow_name}, case {case_name}");
        trace.chapter(|| (id.clone(), name.clone()));
        let coefficients = wind_open::net_coefficients(surface.tilt_deg, on, flow, figure_case, c_f, trace);
        let [lower_cn, upper_cn] = on.lower_upper(coefficients);
        let lower = wind_open::pressure_on("net design pressure, lower half", q, lower_cn, trace);
        let upper = wind_open::pressure_on("net design pressure, upper half", q, upper_cn, trace);
        let load = SurfaceLoad::normal(lower, upper);
        let ratio = if surface.run_mm() > 0.0 { surface.mean_height_mm() / surface.run_mm() } else { f64::INFINITY };
        let state = wind_open::range_state(surface.tilt_deg, ratio);
        let sources = with_envelope(wind_open::FIGURE, &state);
        let wind_from = Some(if on == WindOn::Face { WindFrom::Front } else { WindFrom::Back });
        if figure_case == FigureCase::A {
            record_lean(q, [lower, upper], trace);
            // The sideways move of the sign figure's case B, carried over to every tilt: full force of case A.
            let why = "the sideways eccentricity of a sign, 0.2 of the width, carried over to every tilt";
            for (end, e) in [("left", -wind_sign::CASE_B_ECCENTRICITY), ("right", wind_sign::CASE_B_ECCENTRICITY)] {
                self.cases.push(Case {
                    id: format!("{id}-{end}"),
                    name: format!("{name}, moved 0.2 of the width to the {end}"),
                    action: Action::Wind,
                    state: state.clone().and(RangeState::Judgement(Envelope::Added, why)),
                    sources: [sources.as_slice(), &[wind_sign::FIGURE, ECCENTRIC]].concat(),
                    wind_from,
                    load: Load::Surface(load.clone().across(Across::Leaning(e))),
                });
            }
        }
        self.cases.push(Case { id, name, action: Action::Wind, wind_from, state, sources, load: Load::Surface(load) });
    }

    fn along_wind<T: Trace>(&mut self, q: VelocityPressure, flow: Flow, figure_case: FigureCase, trace: &mut T) {
        let surface = self.surface;
        let (flow_id, flow_name) = flow_words(flow);
        let (case_id, case_name) = case_words(figure_case);
        trace.chapter(|| {
            let words = format!("wind along the low edge, {flow_name}, case {case_name}");
            (format!("wind-along-{flow_id}-{case_id}"), words)
        });
        let (peak, across) = wind_open::along_strips(&surface, flow, figure_case);
        let pressure = wind_open::pressure_on(ALONG_STRIPS[0], q, peak, trace);
        if let Across::Strips(strips) = &across {
            for (what, strip) in ALONG_STRIPS.into_iter().zip(strips).skip(1) {
                wind_open::pressure_on(what, q, peak * strip.share, trace);
            }
        }
        let state = wind_open::range_state(surface.tilt_deg, surface.mean_height_mm() / surface.width_mm);
        let sources = match &state {
            RangeState::Judgement(Envelope::J2, _) => vec![wind_open::FIGURE_ALONG, wind_open::ALONG_HELD],
            state => with_envelope(wind_open::FIGURE_ALONG, state),
        };
        let ends: &[(&str, Across)] = match &across {
            // A frame no wider than its height has one strip: both directions give the same.
            Across::Even => &[("", Across::Even)],
            strips => &[("-left", strips.clone()), ("-right", strips.mirrored())],
        };
        for (end, across) in ends {
            let from = if end.is_empty() { String::new() } else { format!(", from the {}", &end[1..]) };
            self.cases.push(Case {
                id: format!("wind-along-{flow_id}-{case_id}{end}"),
                name: format!("wind along the low edge{from}, {flow_name}, case {case_name}"),
                action: Action::Wind,
                state: state.clone(),
                sources: sources.clone(),
                wind_from: Some(if *end == "-right" { WindFrom::Right } else { WindFrom::Left }),
                load: Load::Surface(SurfaceLoad::normal(pressure, pressure).across(across.clone())),
            });
        }
    }

    /// A sign that reaches the ground: its resultant stands a twentieth of its height above the middle.
    fn grounded_sign<T: Trace>(&mut self, q: VelocityPressure, sign: &Sign, c_f: f64, trace: &mut T) {
        if sign.clearance() < 1.0 {
            return;
        }
        // Halves of 1 ∓ 4e put the resultant e above the middle.
        let lift = 4.0 * wind_sign::GROUNDED_RAISE;
        for (side, s, from) in [("face", 1.0, WindFrom::Front), ("back", -1.0, WindFrom::Back)] {
            let (id, name) =
                (format!("wind-{side}-grounded"), format!("wind on the {side} as on a sign that reaches the ground"));
            trace.chapter(|| (id.clone(), name.clone()));
            let pressure = wind_open::pressure(q, s * c_f, trace);
            self.cases.push(Case {
                id,
                name,
                action: Action::Wind,
                wind_from: Some(from),
                state: RangeState::Judgement(Envelope::J2, "the sign figure is for upright surfaces"),
                sources: vec![wind_sign::FIGURE, wind_open::J2],
                load: Load::Surface(SurfaceLoad::normal((1.0 - lift) * pressure, (1.0 + lift) * pressure)),
            });
        }
    }

    /// Case C of the sign figure: wind that meets a wide, steep surface at a slant.
    fn oblique_wind<T: Trace>(&mut self, q: VelocityPressure, sign: &Sign, trace: &mut T) {
        let Some((peak, across)) = wind_sign::case_c_strips(sign.aspect(), sign.clearance()) else { return };
        for (side, s, from) in [("face", 1.0, WindFrom::Front), ("back", -1.0, WindFrom::Back)] {
            trace.chapter(|| (format!("wind-{side}-slant"), format!("slanting wind on the {side}, at its strongest")));
            let pressure = wind_open::pressure(q, s * peak, trace);
            for (end, across) in [("left", across.clone()), ("right", across.mirrored())] {
                self.cases.push(Case {
                    id: format!("wind-{side}-slant-{end}"),
                    name: format!("slanting wind on the {side}, strongest at the {end} end"),
                    action: Action::Wind,
                    state: RangeState::Judgement(Envelope::J2, "the sign figure is for upright surfaces"),
                    sources: vec![wind_sign::FIGURE_CASE_C, wind_open::J2],
                    wind_from: Some(from),
                    load: Load::Surface(SurfaceLoad::normal(pressure, pressure).across(across)),
                });
            }
        }
    }

    fn minimum_wind<T: Trace>(&mut self, q: VelocityPressure, trace: &mut T) {
        if self.surface.tilt_deg <= 0.0 {
            return;
        }
        trace.chapter(|| ("wind-least".to_string(), "least wind, on the face and on the back".to_string()));
        record_least(q, &self.surface, trace);
        for (side, s, from) in [("face", 1.0, WindFrom::Front), ("back", -1.0, WindFrom::Back)] {
            self.cases.push(Case {
                id: format!("wind-{side}-least"),
                name: format!("least wind on the {side}: 16 psf level on the upright projection"),
                action: Action::Wind,
                state: RangeState::Published,
                sources: vec![MINIMUM_SOURCE],
                wind_from: Some(from),
                load: Load::Surface(SurfaceLoad::horizontal_on_elevation(s * MINIMUM_PA, self.surface.tilt_deg)),
            });
        }
    }

    fn wind_on_roof<T: Trace>(&mut self, wind: &AsceWind, roof: &Roof, trace: &mut T) {
        self.edition = wind.edition;
        let surface = self.surface;
        let panels = RoofPanels {
            // To the roof or to level, whichever is more: the coefficient grows with it.
            tilt_deg: surface.tilt_deg.max(surface.tilt_deg - roof.along_deg),
            chord_mm: surface.slope_mm,
            low_edge_mm: surface.low_edge_mm,
            area_mm2: surface.area_mm2(),
        };
        trace.chapter(|| ("wind".to_string(), "wind on rooftop panels".to_string()));
        let q = VelocityPressure::at(wind, roof.height_mm, trace);
        self.q_pa = q.q_pa;
        match wind_roof::pressure(wind.edition, roof, &panels, q, trace) {
            Err(state) => self.refused.push(refusal(
                "wind",
                "wind on the surface",
                &state.to_string(),
                "stay inside the clause, stand the frame on the ground, or have an engineer give the wind pressure",
            )),
            Ok([onto_pa, off_pa]) => {
                // The components lie in smaller areas than the whole surface: one square metre is taken for all.
                let small = RoofPanels { area_mm2: 1e6, ..panels };
                trace.chapter(|| {
                    ("wind-components".to_string(), "wind on panels and clips, one square metre".to_string())
                });
                let local = wind_roof::pressure(wind.edition, roof, &small, q, trace).unwrap_or([onto_pa, off_pa]);
                self.components = Components::Roof { onto_pa: local[0], off_pa: local[1] };
                for (side, pressure, from) in [("face", onto_pa, WindFrom::Front), ("back", -off_pa, WindFrom::Back)] {
                    self.cases.push(Case {
                        id: format!("wind-{side}-roof"),
                        name: format!("wind on the {side}, rooftop panels"),
                        action: Action::Wind,
                        state: RangeState::Published,
                        sources: vec![wind_roof::FIGURE, wind_roof::FACTORS],
                        wind_from: Some(from),
                        load: Load::Surface(SurfaceLoad::normal(pressure, pressure)),
                    });
                }
                self.minimum_wind(q, trace);
                self.bare_wind(q, trace);
            }
        }
    }
}

const ECCENTRIC: Source = Source::new(
    "judgement",
    "sideways eccentricity of 0.2 of the width at every tilt",
    crate::catalogue::Certainty::Judgement,
);

/// The surface as an upright sign, above 45° only.
fn sign_of(surface: &Surface) -> Option<Sign> {
    surface.is_steep().then(|| Sign {
        width_mm: surface.width_mm,
        plate_mm: surface.rise_mm(),
        top_mm: surface.high_edge_mm(),
    })
}

fn with_envelope(figure: Source, state: &RangeState) -> Vec<Source> {
    match state {
        RangeState::Judgement(Envelope::J1, _) => vec![figure, wind_open::J1],
        RangeState::Judgement(Envelope::J2, _) => vec![figure, wind_sign::FIGURE, wind_open::J2],
        _ => vec![figure],
    }
}

/// What the air below may meet: both when nothing was declared.
fn flows(below: Below) -> &'static [Flow] {
    match below {
        Below::Clear => &[Flow::Clear],
        Below::Obstructed => &[Flow::Obstructed],
        Below::Undeclared => &[Flow::Clear, Flow::Obstructed],
    }
}

fn flow_words(flow: Flow) -> (&'static str, &'static str) {
    match flow {
        Flow::Clear => ("clear", "clear flow below"),
        Flow::Obstructed => ("obstructed", "obstructed flow below"),
    }
}

fn case_words(case: FigureCase) -> (&'static str, &'static str) {
    match case {
        FigureCase::A => ("a", "A"),
        FigureCase::B => ("b", "B"),
    }
}

fn refusal(id: &str, name: &str, why: &str, way_out: &str) -> Refusal {
    Refusal { id: id.to_string(), name: name.to_string(), why: why.to_string(), way_out: way_out.to_string() }
}
