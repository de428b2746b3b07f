//! What to look at before the first post: the siting checklist and its cautions.

use super::{
    document::{Document, Section},
    flow::flow,
    page::Page,
    sheet::Sheet,
    table::{Table, words},
    text::TextSize,
};
use crate::quantities::Units;

/// One thing to look at on the site.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SitingItem {
    /// In a word or two.
    pub topic: &'static str,
    /// What to look at, and why; lengths in both systems, the metric one in brackets.
    pub text: &'static str,
    /// Where it comes from.
    pub source: &'static str,
}

impl SitingItem {
    /// What to look at, with lengths in one system alone.
    #[must_use]
    pub fn text_in(&self, units: Units) -> String {
        match units {
            Units::Us => self.text.replace(" (23 to 30 m)", ""),
            Units::Metric => self.text.replace("75 to 100 ft (23 to 30 m)", "23 to 30 m"),
        }
    }
}

const PRACTICE: &str = "common practice, no source";

/// The siting checklist, in the order a builder walks the site.
pub const SITING: [SitingItem; 9] = [
    SitingItem {
        topic: "Winter sun",
        text: "At least 4 hours of full sun on the shortest day, better 6, most of it between 9 and 15 h solar time.",
        source: PRACTICE,
    },
    SitingItem {
        topic: "Growth",
        text: "Trees grow and bare branches shade too: survey leafless trees as if solid, and look ten years ahead.",
        source: PRACTICE,
    },
    SitingItem {
        topic: "Facing",
        text: "Find true south (north in the southern hemisphere) by the noon shadow of a plumb line; a compass near steel, \
            vehicles or rebar is easily 2 to 10 degrees off.",
        source: "noon shadow: geometry; compass error near iron: from memory, not confirmed",
    },
    SitingItem {
        topic: "Support",
        text: "Nothing that moves: no tree, no fence that sways, no shed that is moved by wind. Firm ground that drains.",
        source: PRACTICE,
    },
    SitingItem {
        topic: "Distance to the battery box",
        text: "Beyond about 75 to 100 ft (23 to 30 m) much heavier copper is needed to keep the voltage drop small. Have the \
            conductors sized by someone qualified.",
        source: PRACTICE,
    },
    SitingItem {
        topic: "Access",
        text: "Room to stand in front and behind for re-tilting, washing and clearing snow, without a ladder where that can be had.",
        source: PRACTICE,
    },
    SitingItem {
        topic: "Turning room",
        text: "Nothing within the swing of the frame: fence, post, wall, branch, the next frame, or a passer-by.",
        source: PRACTICE,
    },
    SitingItem {
        topic: "Wind",
        text: "Hilltops, ridges and gaps between buildings blow harder than the open field; they change the design wind.",
        source: "ASCE 7, topographic effects; from memory",
    },
    SitingItem {
        topic: "Theft and play",
        text: "Out of sight of the road, with bolts that need a special wrench where panels get stolen; out of reach of \
            children at play, who climb frames and touch leads.",
        source: PRACTICE,
    },
];

/// Cautions that belong to work on the site.
pub const SITE_CAUTIONS: [&str; 6] = [
    "Never look at the sun through an instrument: read elevations of the skyline, or use the shadow.",
    "Before any digging have buried lines marked (in the United States call 811, free, some days ahead); elsewhere ask the utilities.",
    "Keep frames, ladders and tapes well away from overhead lines.",
    "Stop work when thunder is heard: a steel frame on open ground draws lightning. Bonding and earthing are an electrician's work.",
    "A panel gives live DC as soon as light falls on it, with full voltage in dull weather too: cover it, and leave leads to someone qualified.",
    "Setbacks, heights and footings are ruled by local codes: ask the permit office before building.",
];

/// The checklist and its cautions on one upright page, with boxes to tick.
#[must_use]
pub fn siting_sheet(design: &str, page: Page, units: Units) -> Sheet {
    let row = |item: &SitingItem| ["[  ]", item.topic, &item.text_in(units), item.source].map(str::to_string);
    let table = Table::new(["Done", "What", "Look at", "Source"].map(words)).with(SITING.iter().map(row));
    let cautions = Section::new("Cautions").steps(SITE_CAUTIONS);
    let document = Document::new("", None).with(Section::new("").table(table)).with(cautions);
    let marks = flow(&document, page, TextSize::Fine).swap_remove(0).marks;
    Sheet::new("siting", "Siting checklist", design, page, units).with(marks)
}
