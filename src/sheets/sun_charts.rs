//! Charts of the tilts: energy against tilt, and the height of the noon sun through the year with the plan drawn in.

use super::{
    chart::{Axis, Chart, Curve},
    geometry::{Point, Rect},
    page::Page,
    pen::Pen,
    sheet::Sheet,
    tables::seasons,
    text::{Text, TextSize, wrap},
};
use crate::{
    quantities::{Units, angle, number, to_deg},
    sun::{
        MonthDay,
        calendar::month_name,
        seasons::{SeasonPlan, Study},
    },
};

/// Room between two parts of a sheet (mm).
const GAP: f64 = 5.0;
/// Foot of the energy chart.
const LEAST_PERCENT: f64 = 50.0;

/// One upright page: the seasons as a table, energy against tilt, and the noon sun with the plan.
#[must_use]
pub fn tilt_charts_sheet(design: &str, study: &Study, plan: &SeasonPlan, page: Page, units: Units) -> Sheet {
    let window = page.window();
    let mut marks = Vec::new();
    let head = seasons(plan).lay_out(TextSize::Small, window, window);
    let mut top = window.top;
    if let Some(part) = head.into_iter().next() {
        top = part.bottom + GAP;
        marks.extend(part.marks);
    }
    let note = format!(
        "Clear sky, frame facing true {}{}. The plan gives {} % {} in a year than the best fixed tilt of {}, and {} % of what a tilt \
         changed every day would give. Clouds lower both: the figures serve to compare tilts.",
        if study.place().is_southern() { "north" } else { "south" },
        plan.special_goal().map_or(String::new(), |goal| format!(", planned for {goal}")),
        number(100.0 * plan.gain_over_fixed.abs(), 1),
        if plan.gain_over_fixed < 0.0 { "less" } else { "more" },
        angle(study.fixed().tilt),
        number(100.0 * plan.share_of_daily_optimum, 1),
    );
    for line in wrap(&note, TextSize::Small, false, window.width()) {
        marks.push(Text::new(&line, Point::new(window.left, top + TextSize::Small.above()), TextSize::Small).into());
        top += TextSize::Small.line_pitch();
    }
    let middle = (top + window.bottom) / 2.0;
    let upper = Rect { top: top + GAP, bottom: middle - GAP / 2.0, ..window };
    let lower = Rect { top: middle + GAP / 2.0, ..window };
    marks.extend(energy_chart(study, plan).draw(upper));
    marks.extend(noon_chart(study, plan).draw(lower));
    Sheet::new("tilts", "Tilts and seasons", design, page, units).with(marks)
}

/// Energy at every fixed tilt: of the whole year and of the winter months, each in per cent of its own best.
#[must_use]
pub fn energy_chart(study: &Study, plan: &SeasonPlan) -> Chart {
    let winter = study.place().winter_months();
    let in_winter = |day: &usize| winter.contains(&MonthDay::from_index(*day).month);
    let year = of_best(study, &(0..365).collect::<Vec<_>>());
    let cold = of_best(study, &(0..365).filter(in_winter).collect::<Vec<_>>());
    let warm = of_best(study, &(0..365).filter(|day| in_winter(&((day + 182) % 365))).collect::<Vec<_>>());
    let months = |first: u8, last: u8| format!("{} to {}", month_name(first), month_name(last));
    let (cold_name, warm_name) = match winter[0] {
        5 => (months(5, 7), months(11, 1)),
        _ => (months(11, 1), months(5, 7)),
    };
    let mut curves = vec![
        Curve { name: "whole year".to_string(), points: year, pen: Pen::Visible },
        Curve { name: cold_name, points: cold, pen: Pen::Curve },
        Curve { name: warm_name, points: warm, pen: Pen::Hidden },
    ];
    let mut tilts: Vec<f64> = plan.seasons.iter().map(|season| to_deg(season.tilt)).collect();
    tilts.sort_by(f64::total_cmp);
    tilts.dedup();
    for tilt in tilts {
        curves.push(Curve {
            name: String::new(),
            points: vec![(tilt, LEAST_PERCENT), (tilt, 102.0)],
            pen: Pen::Centre,
        });
    }
    Chart {
        x: Axis::even("tilt from level (deg); centre lines: tilts of the plan", 0.0, 90.0, 10.0),
        y: Axis::even("energy, % of the best tilt", LEAST_PERCENT, 102.0, 10.0),
        curves,
    }
}

/// Energy of some days at every tilt, in per cent of the best of them.
fn of_best(study: &Study, days: &[usize]) -> Vec<(f64, f64)> {
    let table = study.table();
    let sums: Vec<f64> =
        (0..table.tilts_deg().len()).map(|column| days.iter().map(|day| table.day(*day)[column]).sum()).collect();
    let best = sums.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
    let points: Vec<(f64, f64)> =
        table.tilts_deg().iter().zip(sums).map(|(tilt, sum)| (*tilt, 100.0 * sum / best)).collect();
    above_floor(&points, LEAST_PERCENT)
}

/// The part of a curve above the foot of its chart, ended exactly there. The curve rises and falls once, so it is one piece.
fn above_floor(points: &[(f64, f64)], floor: f64) -> Vec<(f64, f64)> {
    let crossing = |(x0, y0): (f64, f64), (x1, y1): (f64, f64)| (x0 + (floor - y0) / (y1 - y0) * (x1 - x0), floor);
    let mut kept = Vec::new();
    for (n, point) in points.iter().enumerate() {
        let before = n.checked_sub(1).map(|n| points[n]);
        if let Some(before) = before.filter(|before| (before.1 - floor) * (point.1 - floor) < 0.0) {
            kept.push(crossing(before, *point));
        }
        if point.1 >= floor {
            kept.push(*point);
        }
    }
    kept
}

/// Height of the noon sun by day, and the height that the frame stands square to in each season.
#[must_use]
pub fn noon_chart(study: &Study, plan: &SeasonPlan) -> Chart {
    let sun: Vec<(f64, f64)> =
        study.noon().iter().enumerate().map(|(day, height)| (day as f64, to_deg(*height))).collect();
    let lowest = sun.iter().map(|point| point.1).fold(0.0, f64::min);
    let square = |index: usize| {
        let in_season = |season: &&crate::sun::seasons::Season| (index + 365 - season.from.index()) % 365 < season.days;
        90.0 - plan.seasons.iter().find(in_season).map_or(0.0, |season| to_deg(season.tilt))
    };
    let steps = (0..365).flat_map(|day| [(day as f64, square(day)), (day as f64 + 1.0, square(day))]).collect();
    let months = (1..=12).map(|month| (MonthDay { month, day: 1 }.index() as f64, month_name(month)[..3].to_string()));
    Chart {
        x: Axis { name: "first of the month".to_string(), from: 0.0, to: 365.0, ticks: months.collect() },
        y: Axis::even("height over the horizon (deg)", (lowest / 10.0).floor() * 10.0, 90.0, 10.0),
        curves: vec![
            Curve { name: "noon sun".to_string(), points: sun, pen: Pen::Visible },
            Curve { name: "noon sun height the frame faces squarely".to_string(), points: steps, pen: Pen::Curve },
        ],
    }
}
