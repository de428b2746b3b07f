//! The panel: its sides, what it weighs, and what its holes and its box leave of it.

use super::super::{
    Fault, fields,
    judge::Judge,
    model::{CableBox, MountingHoles, Panel},
    words::EdgeSupport,
};
use crate::quantities::{
    Length, Mass, Tape, Written, kg, length, length_both, mass, mass_range, mm, number, to_kg, to_mm,
};

/// Lightest and heaviest panel (kg/m²): flexible sheet to thick double glass. Common practice, no source.
const AREA_KG: [f64; 2] = [2.0, 45.0];

/// From the middle of a mounting hole to the panel's edge, in diameters: one diameter of metal stays outside the hole.
/// Common practice, no source.
const HOLE_FROM_EDGE: f64 = 1.5;

/// A bound written in the units of the reader may miss itself by the rounding of the conversion (mm).
const ROUNDING_MM: f64 = 1e-6;

impl Judge<'_> {
    pub(super) fn panel(&mut self) -> Option<Panel> {
        let told = self.told();
        let (long_side, short_side) = (self.length("panel.long_side"), self.length("panel.short_side"));
        let sides = long_side.zip(short_side).filter(|_| self.told() == told);
        if sides.is_some_and(|(long, short)| short > long) {
            self.fault(
                Fault::new("sides-swapped", "panel.short_side", "the short side is longer than the long side")
                    .hint("swap `panel.long_side` and `panel.short_side`"),
            );
        }
        let thickness = self.length("panel.thickness");
        let area = sides.filter(|_| self.told() == told).map(|(long, short)| to_mm(long) * to_mm(short) * 1e-6);
        let mass = self.panel_mass(area);
        let panel = Panel {
            size_tolerance: self.quantity_or_default("panel.size_tolerance"),
            edge_support_forbidden: self.choice_or_default::<EdgeSupport>("panel.edge_support")
                == EdgeSupport::Forbidden,
            mounting_holes: self.mounting_holes(),
            cable_box: self.cable_box(),
            long_side: long_side?,
            short_side: short_side?,
            thickness: thickness?,
            mass: mass?,
        };
        // A side that no panel has is told already.
        if self.told() == told {
            self.refuse_beyond_panel(&panel);
        }
        Some(panel)
    }

    fn mounting_holes(&mut self) -> Option<MountingHoles> {
        let [along_long_side, across, diameter] =
            ["along_long_side", "across", "diameter"].map(|name| self.length(&format!("panel.mounting_holes.{name}")));
        Some(MountingHoles { along_long_side: along_long_side?, across: across?, diameter: diameter? })
    }

    fn cable_box(&mut self) -> Option<CableBox> {
        let [from_top, height, width, depth] =
            ["from_top", "height", "width", "depth"].map(|name| self.length(&format!("panel.cable_box.{name}")));
        Some(CableBox { from_top: from_top?, height: height?, width: width?, depth: depth? })
    }

    /// Of a panel whose sides are known (m²), one range: what any panel weighs and what one of that size does.
    fn panel_mass(&mut self, area: Option<f64>) -> Option<Mass> {
        const FIELD: &str = "panel.mass";
        let given = self.get::<Written<Mass>>(FIELD)?.0;
        let of_any = fields::field(FIELD)?.kind.range()?;
        let is_panel = (of_any[0]..=of_any[1]).contains(&to_kg(given));
        let [least, most] =
            area.map_or(of_any, |area| [of_any[0].max(AREA_KG[0] * area), of_any[1].min(AREA_KG[1] * area)]);
        if (least..=most).contains(&to_kg(given)) {
            return Some(given);
        }
        let (shown, range) = (mass(given, self.units()), mass_range([kg(least), kg(most)], self.units()));
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
        Some(given)
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
                    let units = self.units();
                    let l = |value| length_both(value, units);
                    let most = mm(Tape::of(self.units()).at_most_mm(to_mm(side - edge * 2.0)));
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
            let most = Tape::of(self.units()).at_most_mm(to_mm(side - reach + given));
            let [reach, side] = [reach, side].map(|value| length_both(value, self.units()));
            let field = format!("panel.cable_box.{name}");
            let hint = format!("the most that fits is `{field}: {}`", length(mm(most), self.units()));
            let sentence = format!("the cable box {is} {reach} {on} a panel {side} {long}");
            self.fault(Fault::new("box-beyond-panel", field, sentence).hint(hint));
        }
        beyond
    }
}
