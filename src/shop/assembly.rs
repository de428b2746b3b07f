//! The order in which a frame is built, with the numbers a builder needs at each step.

use super::{hardware::gravel_mm, weight::turning_mass};
use crate::{
    design::Design,
    frame::{BenchLimits, Frame, Role, StandsOn},
    quantities::{Units, angle, deg, length, limit, mass, mm},
};

/// The steps, in order.
#[must_use]
pub fn assembly(design: &Design, frame: &Frame, units: Units) -> Vec<String> {
    let l = |value: f64| length(mm(value), units);
    let marks = |role: Role| {
        let marks: Vec<&str> = frame.pieces.iter().filter(|p| p.role == role).map(|p| p.mark.as_str()).collect();
        marks.join(", ")
    };
    let diagonal = frame.width_mm.hypot(frame.length_mm);
    let limits = BenchLimits::of(design, frame).limits;
    let weight = mass(turning_mass(design, frame), units);
    let mut steps = vec![
        "Cut every piece to the cut list and write its mark on it. Brush preservative on every cut and in every hole of treated wood.".to_string(),
        "On every piece with holes mark the end and the face that all its holes are measured from. Marked end: the low end of stiles and mullions, the top of posts, the hinge end of runners, the foot of hinge cheeks, the frame-pin end of stays. Gauge face: the sun face of stiles, mullions and cleats, the low-edge side of posts and cheeks, the top of runners. A hole measured from the wrong face tilts the frame wrongly.".to_string(),
        format!(
            "Clamp left and right pieces together, marked ends and gauge faces flush, and drill them as pairs. The hole row is in {}.",
            frame.pieces[frame.row_piece].mark
        ),
        format!("Lay stiles {} and rails {} on a flat floor, sun face up, and screw the outer rectangle together, one screw in each corner first.", marks(Role::Stile), marks(Role::Rail)),
        format!(
            "Tape all four sides and both diagonals ({} each on a true frame) and judge them in the order of the bench card: a push mends only a frame whose opposite sides are equal. When the diagonals differ by no more than {}, and strings across the corners touch, put in the other screws.",
            l(diagonal),
            limit(mm(limits.difference_mm), units)
        ),
    ];
    for (role, what) in
        [(Role::Mullion, "mullions"), (Role::MidRail, "mid rails"), (Role::Purlin, "purlins"), (Role::Cleat, "cleats")]
    {
        if !marks(role).is_empty() {
            steps.push(format!("Fix {what} {} at their places on the elevation.", marks(role)));
        }
    }
    if !marks(Role::CornerBrace).is_empty() {
        let upright = frame.braced_role().unwrap_or(Role::Stile);
        steps.push(format!(
            "Turn the frame over, screw corner braces {} flat into the back of the four corners between {}s {} and rails {}, and measure the diagonals again.",
            marks(Role::CornerBrace),
            upright.word(),
            marks(upright),
            marks(Role::Rail)
        ));
    }
    match frame.stands_on {
        StandsOn::Posts { inside, axle_height_mm, embedment_mm, hole_diameter_mm, .. } => {
            steps.push("Before digging have buried lines marked (in the United States call 811 some days ahead) and dig by hand near the marks.".to_string());
            steps.push(format!(
                "Dig {} holes {} wide on one line, as the setting-out sheet has them: {}, {} deep, that is {} of post below grade and the gravel under it. Set posts {} plumb both ways, axle holes level with each other and {} above grade. Check the distance between the posts at top and bottom, brace them, then pour and let the concrete harden.",
                2 * frame.count,
                l(hole_diameter_mm),
                apart(frame, units),
                l(embedment_mm + gravel_mm(design.units)),
                l(embedment_mm),
                marks(Role::Post),
                l(axle_height_mm)
            ));
            steps.push(if inside {
                "With helpers, lift the frame without its panels over the post tops and lower it so that each post stands in its slot; push the axle bolts through in the order of the joint sheet. Never lift in wind.".to_string()
            } else {
                "With helpers, lift the frame without its panels between the posts, and push the axle bolts through in the order of the joint sheet. Never lift in wind.".to_string()
            });
        }
        StandsOn::Runners { shim_mm, .. } => {
            steps.push(format!(
                "Lay {} runners {} parallel, as the setting-out sheet has them: {}. Level the hinge line from one to the other{}. Measure the diagonals between their ends. Bolt on the cheeks {}.",
                2 * frame.count,
                marks(Role::Runner),
                apart(frame, units),
                if shim_mm > frame.tape.mark_mm() / 2.0 { format!(" with a shim of {} under the lower one", l(shim_mm)) } else { String::new() },
                marks(Role::Cheek)
            ));
            steps.push("Fix the runners to ground, roof or deck before the frame goes on. With helpers, set the frame on its hinge bolts. On a roof, tie yourself and everything else on.".to_string());
        }
    }
    let tilts: Vec<String> = frame.reached().iter().map(|(tilt, _)| angle(deg(*tilt))).collect();
    steps.push(format!(
        "Hang stays {} on their frame pins and set the lowest tilt. Try every hole: the frame must stand at {}.",
        marks(Role::Stay),
        tilts.join(", ")
    ));
    steps.push("Fit the panels last, on a calm day, two people to a panel. A panel gives voltage as long as light falls on it: leave the leads apart and covered until everything is fixed.".to_string());
    steps.push("Bond every panel and all metal to the grounding conductor as the local electrical code asks. Bonding is no lightning protection: keep away in a thunderstorm.".to_string());
    steps.push(format!("To change the tilt: one person at each stay, no wind. The frame with its panels weighs about {weight}: prop it under the high and the low edge so that neither stay carries, pull both pins, move the stays, put both pins and their nuts back, then take the props away."));
    steps
}

/// How far posts or runners stand from each other along their line.
fn apart(frame: &Frame, units: Units) -> String {
    let l = |value: f64| length(mm(value), units);
    let one = format!("{} apart middle to middle", l(frame.span_mm));
    match frame.count {
        1 => one,
        count => format!(
            "in {count} pairs, each {one}, and {} from the second of a pair to the first of the next",
            l(frame.pitch_mm - frame.span_mm)
        ),
    }
}
