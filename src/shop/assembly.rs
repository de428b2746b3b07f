//! The order in which a frame is built, with the numbers a builder needs at each step.

use super::{hardware::gravel_mm, weight::turning_mass};
use crate::{
    design::Design,
    frame::{BenchLimits, Fastener, FastenerKind, Frame, HeldBy, HoleUse, Joint, JointUse, Part, Role, Stands},
    quantities::{Units, angle, deg, drill_size, length, limit, mass, mm, sentence_case},
};

/// The steps, in order.
#[must_use]
pub fn assembly(design: &Design, frame: &Frame, units: Units) -> Vec<String> {
    let l = |value: f64| length(mm(value), units);
    let marks = |role: Role| {
        let marks: Vec<&str> = frame.pieces.iter().filter(|p| p.role == role).map(|p| p.mark.as_str()).collect();
        marks.join(", ")
    };
    let has = |joint: &Joint, role: Role| {
        joint.parts.iter().any(|part| matches!(part, Part::Stick(i) if frame.sticks[*i].role == role))
    };
    let fastened = |wanted: &dyn Fn(&Joint) -> bool| fastened(frame, units, wanted);
    let of = |use_: JointUse| fastened(&|joint: &Joint| joint.use_ == use_);
    let bolted = |hole: HoleUse| of(JointUse::Bolt(hole));
    let inner = [Role::Mullion, Role::MidRail, Role::Purlin, Role::Cleat];
    let diagonal = frame.width_mm.hypot(frame.length_mm);
    let limits = BenchLimits::of(design, frame).limits;
    let weight = mass(turning_mass(design, frame), units);
    let mut steps = vec![
        "Cut every piece to the cut list and write its mark on it. Brush preservative on every cut and in every hole of treated wood.".to_string(),
        "On every piece with holes mark the end and the face that all its holes are measured from. Marked end: the low end of stiles and mullions, the top of posts, the hinge end of runners, the foot of hinge cheeks, the frame-pin end of stays. Gauge face: the sun face of stiles, mullions and cleats, the low-edge side of posts and cheeks, the top of runners. A hole measured from the wrong face tilts the frame wrongly.".to_string(),
        format!(
            "Clamp left and right pieces together, marked ends and gauge faces flush, and drill them as pairs; every drilled part has a drawing of its own. The hole row is in {}.",
            frame.pieces[frame.row_piece].mark
        ),
    ];
    let plies = of(JointUse::Plies);
    if !plies.is_empty() {
        steps.push(format!("Screw the plies of built-up members together before they go in.{plies}"));
    }
    let outer = |joint: &Joint| joint.use_ == JointUse::Corner && !inner.iter().any(|role| has(joint, *role));
    steps.push(format!(
        "Lay stiles {} and rails {} on a flat floor, sun face up, and screw the outer rectangle together, one screw in each corner first.{}",
        marks(Role::Stile),
        marks(Role::Rail),
        fastened(&outer)
    ));
    steps.push(format!(
        "Tape all four sides and both diagonals ({} each on a true frame) and judge them in the order of the bench card: a push mends only a frame whose opposite sides are equal. When the diagonals differ by no more than {}, and strings across the corners touch, put in the other screws.",
        l(diagonal),
        limit(mm(limits.difference_mm), units)
    ));
    for (nth, (role, what)) in inner.iter().zip(["mullions", "mid rails", "purlins", "cleats"]).enumerate() {
        if marks(*role).is_empty() {
            continue;
        }
        // A joint of two of them belongs to the one that comes later.
        let own = |joint: &Joint| {
            let fast = matches!(joint.use_, JointUse::Corner | JointUse::Purlin | JointUse::Bolt(HoleUse::CleatScrew));
            fast && has(joint, *role) && !inner[nth + 1..].iter().any(|later| has(joint, *later))
        };
        steps.push(format!("Fix {what} {} at their places on the elevation.{}", marks(*role), fastened(&own)));
    }
    if !marks(Role::CornerBrace).is_empty() {
        let upright = frame.braced_role().unwrap_or(Role::Stile);
        steps.push(format!(
            "Turn the frame over, screw corner braces {} flat into the back of the four corners between {}s {} and rails {}, and measure the diagonals again.{}",
            marks(Role::CornerBrace),
            upright.word(),
            marks(upright),
            marks(Role::Rail),
            of(JointUse::Brace)
        ));
    }
    let held = held_by(frame, units);
    match frame.feet.first().map(|foot| foot.stands) {
        Some(Stands::InConcrete { depth_mm, hole_diameter_mm }) => {
            let ([x, z], _) = frame.surface();
            steps.push("Before digging have buried lines marked (in the United States call 811 some days ahead) and dig by hand near the marks.".to_string());
            steps.push(format!(
                "Before a post is set, push its ties through, head and nut standing out equally on both sides.{held}"
            ));
            steps.push(format!(
                "Dig {} holes {} wide on one line, as the setting-out sheet has them: {}, {} deep, that is {} of post below grade and the gravel under it. Set posts {} plumb both ways, axle holes level with each other and {} above grade. Check the distance between the posts at top and bottom, brace them, then pour and let the concrete harden.",
                frame.feet.len() * frame.count,
                l(hole_diameter_mm),
                apart(frame, units),
                l(depth_mm + gravel_mm(design.units)),
                l(depth_mm),
                marks(Role::Post),
                l(x.hypot(z))
            ));
            let lift = if frame.slots_mm.is_empty() {
                "With helpers, lift the frame without its panels between the posts"
            } else {
                "With helpers, lift the frame without its panels over the post tops and lower it so that each post stands in its slot"
            };
            steps.push(format!(
                "{lift}, and push the axle bolts through in the order of the joint sheet. Never lift in wind.{}",
                bolted(HoleUse::Axle)
            ));
        }
        Some(Stands::OnGround | Stands::OnRoof | Stands::OnDeck) => {
            let shim_mm = frame.feet.iter().map(|foot| foot.shim_mm).fold(0.0, f64::max);
            steps.push(format!(
                "Lay {} runners {} parallel, as the setting-out sheet has them: {}. Level the hinge line from one to the other{}. Measure the diagonals between their ends. Bolt on the cheeks {}.{}",
                frame.feet.len() * frame.count,
                marks(Role::Runner),
                apart(frame, units),
                if shim_mm > frame.tape.mark_mm() / 2.0 { format!(" with a shim of {} under the lower one", l(shim_mm)) } else { String::new() },
                marks(Role::Cheek),
                bolted(HoleUse::CheekBolt)
            ));
            steps.push(format!("Fix the runners to ground, roof or deck before the frame goes on.{held} On a roof, tie yourself and everything else on."));
            steps.push(format!(
                "With helpers, set the frame without its panels on its hinge bolts. Never lift in wind.{}",
                bolted(HoleUse::Hinge)
            ));
        }
        None => {}
    }
    let tilts: Vec<String> = frame.reached().iter().map(|(tilt, _)| angle(deg(*tilt))).collect();
    steps.push(format!(
        "Hang stays {} on their frame pins and set the lowest tilt. Try every hole: the frame must stand at {}.{}{}",
        marks(Role::Stay),
        tilts.join(", "),
        bolted(HoleUse::FramePin),
        bolted(HoleUse::FixedPin)
    ));
    steps.push(seat_panels(frame, &of));
    steps.push("Bond every panel and all metal to the grounding conductor as the local electrical code asks. Bonding is no lightning protection: keep away in a thunderstorm.".to_string());
    steps.push(format!("To change the tilt: one person at each stay, no wind. The frame with its panels weighs about {weight}: prop it under the high and the low edge so that neither stay carries, pull both pins, move the stays, put both pins and their nuts back, then take the props away."));
    steps
}

/// A clip's bolt goes through the maker's hole while the panel can still be reached all round.
fn seat_panels(frame: &Frame, of: &dyn Fn(JointUse) -> String) -> String {
    let uses = |use_: JointUse| frame.joints.iter().any(|joint| joint.use_ == use_);
    let how = if uses(JointUse::Clip) {
        format!(
            " Lay a panel face down on a blanket and bolt its clips to the maker's holes, finger-tight; set it in its bay, screw each clip to the upright from behind, then tighten the bolts.{}",
            of(JointUse::Clip)
        )
    } else if uses(JointUse::PanelBolt) {
        format!(
            " Two people hold the panel on the purlins while the third puts its bolts in.{}",
            of(JointUse::PanelBolt)
        )
    } else {
        " The design does not tell the panel's mounting holes, so its clips have no place on the drawings: set them where the panel's data sheet allows.".to_string()
    };
    format!(
        "Fit the panels last, on a calm day, two people to a panel. A panel gives voltage as long as light falls on it: leave the leads apart and covered until everything is fixed.{how}"
    )
}

/// Fasteners of joints in words: how many of what, through which hole, and who turns them from where. Empty for none.
fn fastened(frame: &Frame, units: Units, wanted: &dyn Fn(&Joint) -> bool) -> String {
    let parts = |joint: &Joint| {
        let word = |part: &Part| match part {
            Part::Stick(i) => format!("{} {}", frame.sticks[*i].role.word(), frame.mark(*i)),
            Part::Panel(_) => "the panel".to_string(),
        };
        let mut words: Vec<String> = joint.parts.iter().map(word).collect();
        words.dedup();
        words
    };
    let mut told: Vec<(String, usize, usize, String)> = Vec::new();
    let joints = frame.joints.iter().filter(|joint| wanted(joint));
    let mut metal: Vec<&str> = Vec::new();
    for joint in joints {
        if joint.fasteners.is_empty() {
            metal.push(joint.use_.word());
        }
        let mut here: Vec<(String, usize, String)> = Vec::new();
        for f in &joint.fasteners {
            // `cheek bolt 1/2 in`, never `cheek bolt bolt`.
            let (use_, own) = (joint.use_.word(), f.words(units));
            let own = if use_.ends_with(f.kind.word()) { own.trim_start_matches(f.kind.word()).trim() } else { &own };
            let what = sentence_case(&format!("{use_} {own}"));
            match here.iter_mut().find(|(same, ..)| *same == what) {
                Some((_, count, _)) => *count += 1,
                None => here.push((what, 1, turned(joint, f, &parts(joint), units))),
            }
        }
        for (what, each, how) in here {
            match told.iter_mut().find(|(same, n, _, by)| (same, *n, by) == (&what, each, &how)) {
                Some((.., joints, _)) => *joints += 1,
                None => told.push((what, each, 1, how)),
            }
        }
    }
    metal.dedup();
    let in_metal =
        metal.iter().map(|word| format!(" The {word} of metal is welded or bolted as its maker or an engineer says."));
    let told = told.iter().map(|(what, each, joints, how)| match joints {
        1 => format!(" {what}: {each}; {how}."),
        _ => format!(" {what}: {each} at each of {joints}; {how}."),
    });
    told.chain(in_metal).collect()
}

/// The holes a fastener asks for, and who turns it from where.
fn turned(joint: &Joint, f: &Fastener, parts: &[String], units: Units) -> String {
    let (first, last) = (parts.first().map_or("", String::as_str), parts.last().map_or("", String::as_str));
    let clearance = f.clearance_hole_mm.map_or_else(String::new, |hole| drill_size(hole, units));
    let lead = f.lead_hole_mm.map_or_else(String::new, |hole| drill_size(hole, units));
    match (joint.use_, f.kind) {
        (JointUse::Clip, FastenerKind::Bolt) => format!(
            "hole {clearance} in the clip, head under it, nut inside the panel's own frame, through the maker's hole: never drill a panel"
        ),
        (JointUse::PanelBolt, _) => format!(
            "hole {clearance} through {first}, head below it, nut inside the panel's own frame, through the maker's hole: never drill a panel"
        ),
        (JointUse::Clip, _) => {
            format!(
                "through the clip, lead hole {lead} into {first}; one person turns them in from {}",
                joint.turned_from
            )
        }
        (_, FastenerKind::Bolt) => {
            format!("hole {clearance}, head on the side of {first}, nut on the side of {last}: one wrench on each")
        }
        _ => format!(
            "bore {clearance} through {first} and a lead hole {lead} into {last}; one person turns them in from {}",
            joint.turned_from
        ),
    }
}

/// What holds a foot, in words, with its fasteners.
fn held_by(frame: &Frame, units: Units) -> String {
    let Some(foot) = frame.feet.first() else { return String::new() };
    let mut told: Vec<(HeldBy, usize, &[Fastener])> = Vec::new();
    for hold in &foot.holds {
        match told.iter_mut().find(|(by, ..)| by.word() == hold.by.word()) {
            Some((_, count, _)) => *count += 1,
            None => told.push((hold.by, 1, &hold.fasteners)),
        }
    }
    let sentence = |(by, count, fasteners): &(HeldBy, usize, &[Fastener])| {
        let mut words: Vec<(String, usize)> = Vec::new();
        for f in *fasteners {
            let lead =
                f.lead_hole_mm.map_or_else(String::new, |hole| format!(", lead hole {}", drill_size(hole, units)));
            let word = format!("{}{lead}", f.words(units));
            match words.iter_mut().find(|(same, _)| *same == word) {
                Some((_, n)) => *n += 1,
                None => words.push((word, 1)),
            }
        }
        let words: Vec<String> = words.into_iter().map(|(word, n)| format!("{n} × {word}")).collect();
        match words.is_empty() {
            true => format!(" {} at {count} places of each.", sentence_case(by.word())),
            false => {
                let what = sentence_case(by.word());
                format!(" {what} at {count} places of each: {}; from {}.", words.join(" and "), by.turned_from())
            }
        }
    };
    told.iter().map(sentence).collect()
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
