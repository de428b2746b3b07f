//! What `site` answers; field names are part of the contract with scripts.

use super::super::figures::{clock, degrees, millimetres, percent, rounded};
use crate::{
    quantities::to_mm,
    sheets::{SITE_CAUTIONS, SITING},
    sun::{
        MonthDay, SunFault,
        compass::Reliability,
        daylight::{Arc, DaySun, SunSpell},
        seasons::SeasonPlan,
        site::{Cost, FacingLoss, LEAST_HOURS, SURVEY_ERROR_DEG, SiteRows, SiteStudy, TARGET_HOURS, Verdict},
        survey::{Bearings, Survey},
    },
};
use serde::Serialize;

/// Everything that was worked out.
pub(super) struct Parts<'a> {
    pub(super) survey: &'a Survey,
    pub(super) plan: &'a SeasonPlan,
    pub(super) site: &'a SiteStudy,
    pub(super) facing: Vec<FacingLoss>,
    pub(super) noons: Vec<(MonthDay, f64)>,
    pub(super) rows: Option<SiteRows>,
    /// Why no distance can be given.
    pub(super) rows_note: Option<String>,
}

/// Days whose solar noon is told: the day of the survey, else the first of every month.
pub(super) fn noon_days(survey: &Survey) -> Vec<MonthDay> {
    let day = survey.date.map(|date| MonthDay::new(date.month(), date.day()));
    let firsts = (1..=12).map(|month| MonthDay { month, day: 1 });
    // The 29th of February is told as the 28th.
    day.map(|day| day.unwrap_or(MonthDay { month: 2, day: 28 })).into_iter().chain(firsts).collect()
}

#[derive(Debug, Serialize)]
pub(super) struct Answer {
    pub(super) name: String,
    pub(super) place: PlaceRow,
    pub(super) horizon: &'static str,
    pub(super) facing_deg: f64,
    pub(super) low_edge_mm: f64,
    pub(super) compass: Option<CompassRow>,
    /// Why there is no compass reading although there is a day.
    pub(super) compass_note: Option<String>,
    pub(super) winter: WinterRow,
    pub(super) days: Vec<DayRow>,
    pub(super) months: Vec<MonthRow>,
    pub(super) tilts: Vec<TiltRow>,
    pub(super) beam_lost_percent: f64,
    pub(super) obstacles: Vec<ObstacleRow>,
    pub(super) raise_low_edge: Vec<RaiseRow>,
    pub(super) facing_loss: Vec<FacingRow>,
    pub(super) utc_offset_hours: Option<f64>,
    pub(super) solar_noon: Vec<NoonRow>,
    pub(super) rows: Option<RowsRow>,
    pub(super) rows_note: Option<String>,
    pub(super) checklist: Vec<ChecklistRow>,
    pub(super) cautions: [&'static str; 6],
}

#[derive(Debug, Serialize)]
pub(super) struct PlaceRow {
    pub(super) latitude_deg: f64,
    pub(super) longitude_deg: f64,
    pub(super) height_m: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct CompassRow {
    pub(super) date: Option<String>,
    pub(super) model: &'static str,
    pub(super) declination_deg: f64,
    pub(super) uncertainty_deg: Option<f64>,
    pub(super) reliability: &'static str,
    /// What a compass reads when it points where the frame must face.
    pub(super) facing_reads_deg: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct WinterRow {
    pub(super) day: String,
    pub(super) hours: f64,
    pub(super) least_hours: f64,
    pub(super) target_hours: f64,
    pub(super) verdict: &'static str,
    pub(super) in_one_block: bool,
    pub(super) survey_error_deg: f64,
    pub(super) hours_if_horizon_higher: f64,
    pub(super) hours_if_horizon_lower: f64,
    /// Bearings of the sun, clockwise from and to, that nobody looked at; none where nothing was surveyed at all.
    pub(super) not_looked_at_deg: Vec<[f64; 2]>,
    pub(super) not_looked_at_in_summer_deg: Vec<[f64; 2]>,
    pub(super) hours_if_blocked_there: f64,
    pub(super) hours_if_level_there: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct DayRow {
    pub(super) day: String,
    pub(super) event: &'static str,
    pub(super) day_length_hours: f64,
    pub(super) full_sun_hours: f64,
    pub(super) midday_hours: f64,
    pub(super) longest_hours: f64,
    pub(super) spells: Vec<SpellRow>,
}

#[derive(Debug, Serialize)]
pub(super) struct SpellRow {
    pub(super) from_solar: String,
    pub(super) to_solar: String,
    pub(super) from_utc: String,
    pub(super) to_utc: String,
    pub(super) from_clock: Option<String>,
    pub(super) to_clock: Option<String>,
    pub(super) hours: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct MonthRow {
    pub(super) month: u8,
    pub(super) full_sun_hours: f64,
    pub(super) open_hours: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct TiltRow {
    pub(super) from: String,
    pub(super) tilt_deg: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct ObstacleRow {
    pub(super) name: String,
    pub(super) elevation_deg: f64,
    pub(super) winter_hours_lost: f64,
    pub(super) beam_lost_percent: f64,
    pub(super) may_stand: Vec<LimitRow>,
}

#[derive(Debug, Serialize)]
pub(super) struct LimitRow {
    pub(super) goal_hours: f64,
    pub(super) elevation_deg: f64,
    pub(super) height_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
pub(super) struct RaiseRow {
    pub(super) goal_hours: f64,
    pub(super) by_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
pub(super) struct FacingRow {
    pub(super) off_deg: f64,
    pub(super) year_percent: f64,
    pub(super) winter_percent: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct NoonRow {
    pub(super) day: String,
    pub(super) utc: String,
    pub(super) clock: Option<String>,
}

#[derive(Debug, Serialize)]
pub(super) struct RowsRow {
    pub(super) slope_length_mm: f64,
    pub(super) tilt_deg: f64,
    pub(super) ground_rise_deg: f64,
    pub(super) from_solar_hour: f64,
    pub(super) sun_altitude_deg: f64,
    pub(super) sun_off_facing_deg: f64,
    pub(super) pitch_mm: f64,
    pub(super) pitch_along_ground_mm: f64,
    pub(super) shadow_mm: f64,
    pub(super) sideways_mm: f64,
    pub(super) swing_reach_mm: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct ChecklistRow {
    pub(super) topic: &'static str,
    pub(super) text: &'static str,
    pub(super) source: &'static str,
}

impl Answer {
    pub(super) fn of(parts: &Parts<'_>) -> Self {
        let (survey, site) = (parts.survey, parts.site);
        let offset = survey.utc_offset_hours;
        let place = &survey.place;
        Self {
            name: survey.name.clone(),
            place: PlaceRow {
                latitude_deg: degrees(place.latitude()),
                longitude_deg: degrees(place.longitude()),
                height_m: rounded(to_mm(place.height()) / 1000.0, 1),
            },
            horizon: match (survey.is_surveyed(), survey.bearings) {
                (false, _) => "open, not surveyed",
                (true, Bearings::True) => "surveyed, true bearings",
                (true, Bearings::Magnetic) => "surveyed, magnetic bearings turned to true",
            },
            facing_deg: degrees(place.facing()),
            low_edge_mm: millimetres(survey.low_edge),
            compass: compass(survey),
            compass_note: compass_note(survey),
            winter: winter(site, survey.is_surveyed()),
            days: ["winter solstice", "spring equinox", "autumn equinox", "summer solstice"]
                .into_iter()
                .zip(&site.days)
                .map(|(event, day)| day_row(event, day, offset, place.is_southern()))
                .collect(),
            months: month_rows(site),
            tilts: parts
                .plan
                .seasons
                .iter()
                .map(|s| TiltRow { from: s.from.to_string(), tilt_deg: degrees(s.tilt) })
                .collect(),
            beam_lost_percent: percent(1.0 - site.year.beam_kept),
            obstacles: site.costs.iter().map(obstacle_row).collect(),
            raise_low_edge: site
                .raises
                .iter()
                .map(|raise| RaiseRow { goal_hours: raise.goal_hours, by_mm: raise.by.map(|by| to_mm(by).ceil()) })
                .collect(),
            facing_loss: parts
                .facing
                .iter()
                .map(|loss| FacingRow {
                    off_deg: degrees(loss.off),
                    year_percent: percent(loss.year),
                    winter_percent: percent(loss.winter),
                })
                .collect(),
            utc_offset_hours: offset,
            solar_noon: parts.noons.iter().map(|(day, utc)| noon_row(*day, *utc, offset)).collect(),
            rows: parts.rows.as_ref().and_then(|rows| rows_row(survey, rows)),
            rows_note: parts.rows_note.clone(),
            checklist: SITING
                .iter()
                .map(|item| ChecklistRow { topic: item.topic, text: item.text, source: item.source })
                .collect(),
            cautions: SITE_CAUTIONS,
        }
    }

    /// True when there was a horizon to judge.
    pub(super) fn is_surveyed(&self) -> bool {
        self.horizon.starts_with("surveyed")
    }
}

fn compass_note(survey: &Survey) -> Option<String> {
    let given = survey.date.filter(|_| survey.declination.is_none())?;
    let fault = SunFault::MagneticDate { given };
    Some(format!("{fault}; {}", fault.hint()))
}

fn compass(survey: &Survey) -> Option<CompassRow> {
    let declination = survey.declination?;
    Some(CompassRow {
        date: survey.date.map(|date| date.to_string()),
        model: declination.model,
        declination_deg: rounded(degrees(declination.declination), 2),
        uncertainty_deg: declination.uncertainty.map(|sigma| rounded(degrees(sigma), 2)),
        reliability: match declination.reliability {
            Reliability::Good => "good",
            Reliability::Caution => "caution: readings scatter this near the magnetic pole",
            Reliability::Blackout => "useless this near the magnetic pole",
        },
        facing_reads_deg: rounded(degrees(declination.magnetic_bearing(survey.place.facing())), 1),
    })
}

fn winter(site: &SiteStudy, surveyed: bool) -> WinterRow {
    let winter = site.winter();
    let arcs = |arcs: &[Arc]| {
        let shown = arcs.iter().filter(|_| surveyed).map(|arc| [rounded(arc.from_deg, 1), rounded(arc.to_deg, 1)]);
        shown.collect()
    };
    WinterRow {
        day: winter.day.to_string(),
        hours: rounded(winter.hours(), 3),
        least_hours: LEAST_HOURS,
        target_hours: TARGET_HOURS,
        verdict: match site.verdict {
            Verdict::Enough => "enough",
            Verdict::ShortOfTarget => "short of the target",
            Verdict::TooLittle => "too little",
            Verdict::PolarNight => "polar night",
            Verdict::NotSeen => "no verdict",
        },
        in_one_block: winter.spells.len() <= 1,
        survey_error_deg: SURVEY_ERROR_DEG,
        hours_if_horizon_higher: rounded(site.hours_if_higher, 3),
        hours_if_horizon_lower: rounded(site.hours_if_lower, 3),
        not_looked_at_deg: arcs(&site.unseen_winter),
        not_looked_at_in_summer_deg: arcs(&site.unseen_summer),
        hours_if_blocked_there: rounded(site.hours_if_unseen_blocked, 3),
        hours_if_level_there: rounded(site.hours_if_unseen_level, 3),
    }
}

fn day_row(event: &'static str, day: &DaySun, offset: Option<f64>, southern: bool) -> DayRow {
    // The two equinoxes change places south of the equator.
    let event = match (event, southern) {
        ("spring equinox", true) => "autumn equinox",
        ("autumn equinox", true) => "spring equinox",
        (event, _) => event,
    };
    DayRow {
        day: day.day.to_string(),
        event,
        day_length_hours: rounded(day.day_length_hours, 3),
        full_sun_hours: rounded(day.hours(), 3),
        midday_hours: rounded(day.midday_hours(), 3),
        longest_hours: rounded(day.longest_hours(), 3),
        spells: day.spells.iter().map(|spell| spell_row(spell, offset)).collect(),
    }
}

fn spell_row(spell: &SunSpell, offset: Option<f64>) -> SpellRow {
    SpellRow {
        from_solar: clock(spell.solar_hours.0),
        to_solar: clock(spell.solar_hours.1),
        from_utc: clock(spell.utc_hours.0),
        to_utc: clock(spell.utc_hours.1),
        from_clock: offset.map(|hours| clock(spell.utc_hours.0 + hours)),
        to_clock: offset.map(|hours| clock(spell.utc_hours.1 + hours)),
        hours: rounded(spell.hours(), 3),
    }
}

fn month_rows(site: &SiteStudy) -> Vec<MonthRow> {
    let months = site.year.monthly_hours.iter().zip(&site.year.monthly_open_hours);
    (1..=12)
        .zip(months)
        .map(|(month, (hours, open))| MonthRow {
            month,
            full_sun_hours: rounded(*hours, 2),
            open_hours: rounded(*open, 2),
        })
        .collect()
}

fn obstacle_row(cost: &Cost) -> ObstacleRow {
    ObstacleRow {
        name: cost.name.clone(),
        elevation_deg: rounded(degrees(cost.elevation), 1),
        winter_hours_lost: rounded(cost.winter_hours, 2),
        beam_lost_percent: rounded(percent(cost.beam_share), 2),
        may_stand: cost
            .limits
            .iter()
            .map(|limit| LimitRow {
                goal_hours: limit.goal_hours,
                elevation_deg: rounded(degrees(limit.elevation), 1),
                // Down, so that the goal is kept at the height told.
                height_mm: limit.height.map(|height| to_mm(height).floor()),
            })
            .collect(),
    }
}

fn noon_row(day: MonthDay, utc: f64, offset: Option<f64>) -> NoonRow {
    NoonRow { day: day.to_string(), utc: clock(utc), clock: offset.map(|hours| clock(utc + hours)) }
}

fn rows_row(survey: &Survey, rows: &SiteRows) -> Option<RowsRow> {
    let request = survey.rows?;
    Some(RowsRow {
        slope_length_mm: millimetres(request.slope_length),
        tilt_deg: degrees(rows.tilt),
        ground_rise_deg: degrees(request.ground_rise),
        from_solar_hour: request.from_hour,
        sun_altitude_deg: degrees(rows.sun.altitude),
        sun_off_facing_deg: degrees(rows.sun.off_facing),
        pitch_mm: millimetres(rows.spacing.pitch),
        pitch_along_ground_mm: millimetres(rows.spacing.pitch_along_ground),
        shadow_mm: millimetres(rows.spacing.shadow),
        sideways_mm: millimetres(rows.spacing.sideways),
        swing_reach_mm: millimetres(rows.reach),
    })
}
