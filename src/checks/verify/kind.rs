//! The fixed list of checks: each is named in every result, with a state.

use serde::Serialize;

/// One check of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Bending both ways with axial force.
    MemberBending,
    /// Shear along the grain or the wall.
    MemberShear,
    /// Shear of the twist.
    MemberTorsion,
    /// The section left at a hole.
    NetSection,
    /// Shear of a member hung from a bolt.
    HungShear,
    /// Wood or steel that tears out between holes or to the end.
    TearOut,
    /// The stay as a strut and a tie.
    Stay,
    /// The bolt the frame turns on.
    Axle,
    /// The frame pin, and what holds hinge cheeks and cleats.
    FramePin,
    /// The fixed pin, between stay and post or runner.
    FixedPin,
    /// Corner braces as struts and ties.
    Brace,
    /// Screws of the corner braces.
    BraceScrews,
    /// Screws between rails and stiles.
    CornerScrews,
    /// Wood pressed across the grain.
    Bearing,
    /// Panels against their rated load.
    PanelLoad,
    /// Clips, or bolts through mounting holes, under component uplift.
    Clips,
    /// Purlins under component pressures.
    Purlins,
    /// The post at and below the ground.
    PostBelowGrade,
    /// Depth of the posts.
    Embedment,
    /// Pressure on the ground under the foot of a post or under a runner.
    BaseBearing,
    /// A post pulled out.
    Uplift,
    /// The foot against the frost.
    Frost,
    /// Wood that stands in the ground or lies on it.
    GroundContact,
    /// Sliding, overturning and uplift of a frame on runners.
    Ballast,
    /// Stakes beside runners.
    Stakes,
    /// Brackets that tie runners to a roof or deck.
    RoofBrackets,
    /// The roof or deck under the runners.
    RoofStructure,
    /// Deflection of members.
    Deflection,
    /// Twist across a panel.
    Twist,
    /// Sway of the posts.
    Sway,
    /// Lowest natural frequency.
    Frequency,
    /// The frame with one stay loose.
    OneStayLoose,
}

impl Kind {
    /// The whole list, in the order it is printed.
    pub const ALL: [Self; 32] = [
        Self::MemberBending,
        Self::MemberShear,
        Self::MemberTorsion,
        Self::NetSection,
        Self::HungShear,
        Self::TearOut,
        Self::Stay,
        Self::Axle,
        Self::FramePin,
        Self::FixedPin,
        Self::Brace,
        Self::BraceScrews,
        Self::CornerScrews,
        Self::Bearing,
        Self::PanelLoad,
        Self::Clips,
        Self::Purlins,
        Self::PostBelowGrade,
        Self::Embedment,
        Self::BaseBearing,
        Self::Uplift,
        Self::Frost,
        Self::GroundContact,
        Self::Ballast,
        Self::Stakes,
        Self::RoofBrackets,
        Self::RoofStructure,
        Self::Deflection,
        Self::Twist,
        Self::Sway,
        Self::Frequency,
        Self::OneStayLoose,
    ];

    /// Short name, as `explain` takes it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::MemberBending => "member-bending",
            Self::MemberShear => "member-shear",
            Self::MemberTorsion => "member-torsion",
            Self::NetSection => "net-section",
            Self::HungShear => "hung-shear",
            Self::TearOut => "tear-out",
            Self::Stay => "stay",
            Self::Axle => "axle",
            Self::FramePin => "frame-pin",
            Self::FixedPin => "fixed-pin",
            Self::Brace => "brace",
            Self::BraceScrews => "brace-screws",
            Self::CornerScrews => "corner-screws",
            Self::Bearing => "bearing",
            Self::PanelLoad => "panel-load",
            Self::Clips => "clips",
            Self::Purlins => "purlins",
            Self::PostBelowGrade => "post-below-grade",
            Self::Embedment => "embedment",
            Self::BaseBearing => "base-bearing",
            Self::Uplift => "uplift",
            Self::Frost => "frost",
            Self::GroundContact => "ground-contact",
            Self::Ballast => "ballast",
            Self::Stakes => "stakes",
            Self::RoofBrackets => "roof-brackets",
            Self::RoofStructure => "roof-structure",
            Self::Deflection => "deflection",
            Self::Twist => "twist",
            Self::Sway => "sway",
            Self::Frequency => "frequency",
            Self::OneStayLoose => "one-stay-loose",
        }
    }

    /// What it looks at, in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::MemberBending => "members: bending both ways with axial force",
            Self::MemberShear => "members: shear",
            Self::MemberTorsion => "members: twist with shear",
            Self::NetSection => "members: section left at holes",
            Self::HungShear => "members: shear at bolts they hang from",
            Self::TearOut => "holes: what tears out",
            Self::Stay => "stays: strut and tie",
            Self::Axle => "axle or hinge bolt, with its gaps",
            Self::FramePin => "frame pin; bolts of hinge cheeks and cleats",
            Self::FixedPin => "fixed pin, stay to post or runner",
            Self::Brace => "corner braces: strut and tie",
            Self::BraceScrews => "corner braces: screws",
            Self::CornerScrews => "rail to stile: screws",
            Self::Bearing => "wood pressed across the grain",
            Self::PanelLoad => "panels: rated design load",
            Self::Clips => "panels: clips or bolts under component uplift",
            Self::Purlins => "purlins under component pressures",
            Self::PostBelowGrade => "posts: bending at and below the ground",
            Self::Embedment => "posts: embedment",
            Self::BaseBearing => "posts and runners: pressure on the ground",
            Self::Uplift => "posts: uplift",
            Self::Frost => "posts: foot below the frost",
            Self::GroundContact => "wood in or on the ground: treatment",
            Self::Ballast => "runners: sliding, overturning, uplift",
            Self::Stakes => "runners: stakes, sideways and pulled out",
            Self::RoofBrackets => "runners: brackets and lag screws",
            Self::RoofStructure => "runners: the roof or deck under them",
            Self::Deflection => "members: deflection",
            Self::Twist => "panels: twist",
            Self::Sway => "sway",
            Self::Frequency => "lowest frequency, 1 Hz at least",
            Self::OneStayLoose => "one stay loose while re-tilting",
        }
    }

    /// What a reader could not guess from the words; empty where they say it all.
    #[must_use]
    pub fn note(self) -> &'static str {
        match self {
            Self::OneStayLoose => {
                "The worst of all checks of members, bolts, posts and ground while the left stay is out of its pin, no snow \
                 lies on the panels and gusts reach 20 mph (8.9 m/s) at most. Who re-tilts the frame stands under it: like the frame \
                 with its panels off or partly on, it must hold, and above 1 it fails the design."
            }
            Self::GroundContact => {
                "It has no number. Wood in the ground or in concrete that touches it must be preservative-treated (IBC 2304.12): \
                 posts to AWPA use category UC4B, heavy duty (IBC 1807.3.1), what lies on the ground to UC4A at least. The end \
                 tag of each stick names its category; brush preservative on every cut, and put the uncut end in the ground."
            }
            _ => "",
        }
    }

    /// The check of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }
}
