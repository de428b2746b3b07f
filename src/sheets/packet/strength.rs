//! What a packet says of strength: the calculation sheet where there is one, and the same warning in every file.

use crate::{
    checks::{
        NO_LOADS, Strength,
        verify::{Report, Verdict},
    },
    frame::LaidOut,
    loads::left_out,
    quantities::{number, sentence_case},
    sheets::{Calculation, Warning, html},
};

/// Name of the calculation sheet in the packet.
pub(super) const CALCULATION: &str = "calculation.html";

/// The calculation sheet, where the design gives all that strength needs, and what is said of it elsewhere.
pub(super) struct StrengthSaid {
    pub(super) verdict: String,
    pub(super) holds: bool,
    /// Does a check fail, rather than lack a value?
    pub(super) fails: bool,
    /// The paragraph of the page.
    pub(super) says: String,
    /// What every file of the packet says of it; nothing where no check fails and each has a value.
    pub(super) warning: Option<Warning>,
    pub(super) page: Option<String>,
    /// Depth below grade that soil and frost ask of a post (mm).
    pub(super) depth_asked_mm: Option<f64>,
}

impl StrengthSaid {
    /// A packet is of use at the saw without a verdict, so what stops the checks is said and stops nothing else.
    pub(super) fn of(laid: &LaidOut) -> Self {
        match Strength::of(laid) {
            Ok(Some(strength)) => Self::reported(laid, &strength),
            Ok(None) => Self::without(NO_LOADS),
            Err(faults) => {
                let all: Vec<&str> = faults.iter().map(|fault| fault.sentence.as_str()).collect();
                Self::without(&all.join("; "))
            }
        }
    }

    fn without(why: &str) -> Self {
        Self {
            verdict: format!("no verdict can be given: {why}"),
            holds: false,
            fails: false,
            says: format!("No strength was computed: {why}. {}", left_out()),
            warning: Some(Warning { what: "Strength: not computed, no verdict".to_string(), why: sentence_case(why) }),
            page: None,
            depth_asked_mm: None,
        }
    }

    fn reported(laid: &LaidOut, Strength { basis, report }: &Strength) -> Self {
        let verdict = report.verdict.sentence();
        let says = sentence_case(&format!(
            "{verdict}. {CALCULATION} holds every check for a licensed engineer to review. {}",
            left_out()
        ));
        let what = match report.verdict {
            Verdict::Fails { checks: 1, .. } => Some("1 check FAILS".to_string()),
            Verdict::Fails { checks, .. } => Some(format!("{checks} checks FAIL")),
            Verdict::None(_) => Some("no verdict can be given".to_string()),
            Verdict::UnderJudgement(_) | Verdict::NoneAboveOne => None,
        };
        let warning = what.map(|what| Warning {
            what: format!("Strength: {what}, see the calculation sheet"),
            why: sentence_case(&reason(report)),
        });
        let (design, frame, units) = (&laid.design, &laid.frame, laid.units);
        let depth_asked_mm = frame.in_soil().and_then(|soil| report.depth_asked_mm(soil.depth_mm));
        let page = Calculation { design, basis, frame, report, warning: warning.as_ref(), units };
        let page = html::page(&page.document());
        Self {
            verdict,
            holds: report.verdict.holds(),
            fails: matches!(report.verdict, Verdict::Fails { .. }),
            says,
            warning,
            page: Some(page),
            depth_asked_mm,
        }
    }
}

/// Why a design fails, or has no verdict: as much as a line or two hold.
fn reason(report: &Report) -> String {
    const NAMED: usize = 3;
    let (head, reasons) = match &report.verdict {
        Verdict::None(reasons) => ("", reasons.clone()),
        _ => {
            let failing =
                report.rows.iter().filter(|row| row.fails()).filter_map(|row| {
                    Some(format!("{}, {}: {}", row.part, row.kind.words(), number(row.utilisation?, 2)))
                });
            ("utilisations above 1: ", failing.collect())
        }
    };
    let more = match reasons.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    format!("{head}{}{more}", reasons.iter().take(NAMED).map(String::as_str).collect::<Vec<_>>().join("; "))
}
