//! Worked examples of members once more, in newtons and millimetres as the checks call them: the conversions are in them.
//!
//! *Structural Wood Design Examples* E1.6 and E1.8, RSDG Ex. 5.6, AISC *Design Examples* F.6, F.9, H.5A; values marked
//! computed come from an independent computation.

use super::{
    evaluate::recorded,
    printed::{IN, LB, near},
};
use tiltwright::{
    catalogue::{Grade, Record, Silent, Species, design_values, metal, section},
    codes::{
        Forces, HoleHere, PinPlace, Refusal,
        adm::aluminium_yield,
        aisc360::SteelMember,
        nds::{Duration, WoodMember},
    },
};

fn wood(name: &str, species: Species, length_mm: f64) -> WoodMember {
    let section = section(name).expect("a listed size");
    let values = design_values(species, Grade::No2, section).expect("held");
    WoodMember {
        section,
        values,
        wet: false,
        incised: false,
        free_strong_mm: length_mm,
        free_weak_mm: length_mm,
        k_e: 1.0,
    }
}

fn combined(member: &WoodMember, duration: Duration, forces: &Forces, hole: Option<HoleHere>) -> f64 {
    recorded(|t| {
        let strengths = member.strengths(t, duration)?;
        member.combined(t, &strengths, forces, hole)
    })
    .expect("holds")
}

fn sheared(member: &WoodMember, duration: Duration, forces: &Forces, hole: Option<HoleHere>) -> f64 {
    recorded(|t| member.strengths(t, duration).map(|s| member.sheared(t, &s, forces, hole))).expect("holds")
}

#[test]
fn rsdg_5_6_post_in_newtons() {
    // SPF No.2 4x4, 7.3 ft, 4800 lb: 0.67671.
    let member = wood("4x4", Species::SprucePineFir, 7.3 * 12.0 * IN);
    let forces = Forces { axial_n: -4800.0 * LB, ..Forces::default() };
    near("use", combined(&member, Duration::TenYears, &forces, None), 0.67671, 2e-5);
    // 700 lb of shear: 1.5 V/A over 135 psi.
    let sideways = Forces { shear_n: -700.0 * LB, ..Forces::default() };
    near("shear", sheared(&member, Duration::TenYears, &sideways, None), 1.5 * 700.0 / 12.25 / 135.0, 1e-9);
    // The same post, free-standing and as much shorter as its effective length coefficient is larger.
    let free = WoodMember { free_strong_mm: member.free_strong_mm / 2.1, k_e: 2.1, ..member };
    let free = WoodMember { free_weak_mm: free.free_strong_mm, ..free };
    near("free-standing", combined(&free, Duration::TenYears, &forces, None), 0.67671, 2e-5);
    let mut record = Record::default();
    free.strengths(&mut record, Duration::TenYears).expect("holds");
    let step = record.steps.iter().find(|s| s.symbol == "l_e" && s.source.place == "App. G").expect("it is cited");
    near("effective length", step.value, 7.3 * 12.0, 1e-9);
}

#[test]
fn swd_e1_8_in_newtons() {
    // S. Pine No.2 2x4, 36 in: strong 120 lb, weak 150 lb at midspan, 900 lb along it: 0.98 printed, 0.9757 computed with
    // the effective length of a load at midspan; here that of any load.
    const ANY_LOAD: f64 = 0.005;
    let member = wood("2x4", Species::SouthernPine, 36.0 * IN);
    let forces = Forces {
        axial_n: -900.0 * LB,
        strong_nmm: 120.0 * 36.0 / 4.0 * LB * IN,
        weak_nmm: -150.0 * 36.0 / 4.0 * LB * IN,
        shear_n: 60.0 * LB,
        cross_shear_n: 75.0 * LB,
        torsion_nmm: 0.0,
    };
    near("use", combined(&member, Duration::TenMinutes, &forces, None), 0.9757, ANY_LOAD);
    near("shear", sheared(&member, Duration::TenMinutes, &forces, None), 1.5 * 75.0 / 5.25 / 280.0, 1e-9);
}

#[test]
fn swd_e1_6_in_newtons() {
    // Hem-Fir No.2 2x8 in tension with bending, wind case: 0.6124 on the tension edge.
    let member = wood("2x8", Species::HemFir, 144.0 * IN);
    let forces = Forces { axial_n: 3180.0 * LB, strong_nmm: 6912.0 * LB * IN, ..Forces::default() };
    near("use", combined(&member, Duration::TenMinutes, &forces, None), 0.6124, 1e-4);
}

#[test]
fn a_hole_costs_strength_and_depth_in_shear() {
    let member = wood("2x6", Species::DouglasFirLarch, 300.0);
    let forces = Forces { axial_n: 2000.0, strong_nmm: 200e3, shear_n: 900.0, ..Forces::default() };
    let hole = Some(HoleHere { diameter_mm: 14.3, from_edge_mm: 69.85 });
    let wind = Duration::TenMinutes;
    assert!(combined(&member, wind, &forces, hole) > combined(&member, wind, &forces, None));
    // Shear over b (d − h): 139.7/(139.7 − 14.3) times as much.
    let (whole, holed) = (sheared(&member, wind, &forces, None), sheared(&member, wind, &forces, hole));
    near("net depth", holed / whole, 139.7 / (139.7 - 14.3), 1e-9);
    let pressed = Forces { axial_n: -2000.0, ..forces };
    assert!(combined(&member, wind, &pressed, hole) > 0.0);
}

/// Largest shear stress of a rectangle in torsion by the whole series of St. Venant.
fn twist_stress(torsion: f64, [b, d]: [f64; 2]) -> f64 {
    let pi = std::f64::consts::PI;
    let odd = || (0..60).map(|n| f64::from(2 * n + 1));
    let j = d
        * b.powi(3)
        * (1.0 / 3.0
            - 64.0 * b / (pi.powi(5) * d) * odd().map(|n| (n * pi * d / (2.0 * b)).tanh() / n.powi(5)).sum::<f64>());
    torsion * b / j
        * (1.0 - 8.0 / (pi * pi) * odd().map(|n| 1.0 / (n * n * (n * pi * d / (2.0 * b)).cosh())).sum::<f64>())
}

#[test]
fn twist_of_wood_follows_the_series() {
    for (name, size) in [("2x6", [38.1, 139.7]), ("2x4", [38.1, 88.9]), ("4x4", [88.9, 88.9]), ("4x6", [88.9, 139.7])] {
        let member = wood(name, Species::DouglasFirLarch, 300.0);
        let forces = Forces { torsion_nmm: 20e3, ..Forces::default() };
        let u = recorded(|t| member.strengths(t, Duration::TenMinutes).map(|s| member.twisted(t, &s, &forces)));
        // F_v′ = 180 × 1.6 psi.
        near(name, u.expect("holds"), twist_stress(20e3, size) / (288.0 * 0.006_894_757_293), 2.5e-3);
    }
}

fn steel(name: &str, metal_name: &str, length_mm: f64) -> SteelMember {
    SteelMember {
        section: section(name).expect("a listed section"),
        metal: metal(metal_name).expect("a listed metal"),
        free_strong_mm: length_mm,
        free_weak_mm: length_mm,
        k_e: 1.0,
    }
}

#[test]
fn steel_members_in_newtons() {
    let axial = |kip: f64| Forces { axial_n: kip * 1000.0 * LB, ..Forces::default() };
    // Computed: HSS2x2x1/8 of A500 Gr C at 96 in carries 7.9339 kip; r from I and A differs from the printed r by 0.05 %.
    let tube = steel("HSS2x2x1/8", "A500 Gr C", 96.0 * IN);
    near("tube", recorded(|t| tube.combined(t, &axial(-7.9339), None)).expect("holds"), 1.0, 0.002);
    // Computed: Pipe 4 STD of A53, K = 2.1 over 96 in: 24.9132 kip.
    let post = SteelMember { k_e: 2.1, ..steel("Pipe 4 STD", "A53 Gr B", 96.0 * IN) };
    near("post", recorded(|t| post.combined(t, &axial(-24.9132), None)).expect("holds"), 1.0, 0.01);
    // AISC Design Examples F.6: HSS3-1/2x3-1/2x1/8, 4.79 ft-kip.
    let bent = Forces { strong_nmm: 4790.0 * 12.0 * LB * IN, ..Forces::default() };
    let tube = steel("HSS3-1/2x3-1/2x1/8", "A500 Gr C", 0.0);
    near("F.6", recorded(|t| tube.combined(t, &bent, None)).expect("holds"), 1.0, 0.003);
    let wood = SteelMember { section: section("2x4").expect("listed"), ..tube };
    assert!(matches!(wood.combined(&mut Silent, &bent, None), Err(Refusal::NotHeld(_))));
}

#[test]
fn torsion_of_tubes_counts_above_a_fifth_of_its_strength() {
    // H3.1: C = 2 (B − t)(H − t) t − 4.5 (4 − π) t³; HSS2x2x1/8: 2 × 1.884² × 0.116 − 3.8628 × 0.116³ = 0.81744 in³;
    // T_n/Ω = 0.6 × 46 × 0.81744/1.67 = 13.510 kip·in.
    let tube = steel("HSS2x2x1/8", "A500 Gr B", 20.0 * IN);
    let twisted = |share: f64| Forces { torsion_nmm: share * 13_510.0 * LB * IN, ..Forces::default() };
    near("share", recorded(|t| tube.twisted(t, &twisted(0.15))).expect("holds"), 0.15, 1e-3);
    // Above a fifth by H3-6: nothing but torsion gives its square.
    near("H3-6", recorded(|t| tube.twisted(t, &twisted(0.5))).expect("holds"), 0.25, 2e-3);
    // An open section by T t/J: L2x2x1/4, 1 kip·in over 0.0209 in⁴.
    let angle = steel("L2x2x1/4", "A36", 20.0 * IN);
    let forces = Forces { torsion_nmm: 1000.0 * LB * IN, ..Forces::default() };
    let by_hand = 1.0 * 0.25 / 0.0209 / (0.6 * 36.0 / 1.67);
    near("angle", recorded(|t| angle.twisted(t, &forces)).expect("holds"), by_hand, 1e-9);
}

#[test]
fn holes_in_steel_leave_what_is_computed_by_hand() {
    // HSS4x4x1/4 with a 9/16 in hole through two walls at mid depth: A_n = 3.37 − 2 × 0.625 × 0.233 = 3.07875 in²;
    // I_n = 7.80 − 2 × 0.233 × 0.625³/12 = 7.7905 over the depth; across, the walls stand 1.8835 in off:
    // 7.80 − 2 × 0.233 × 0.625 (0.233²/12 + 1.8835²) = 6.7655.
    let tube = steel("HSS4x4x1/4", "A500 Gr B", 0.0);
    let hole = Some(HoleHere { diameter_mm: 0.5625 * IN, from_edge_mm: 2.0 * IN });
    let allowed = 46.0 / 1.67;
    let at = |forces: Forces| recorded(|t| tube.combined(t, &forces, hole)).expect("holds");
    let kip = 1000.0 * LB;
    near("pull", at(Forces { axial_n: kip, ..Forces::default() }), 1.0 / 3.07875 / allowed, 1e-4);
    near("deep", at(Forces { strong_nmm: kip * IN, ..Forces::default() }), 2.0 / 7.7905 / allowed, 1e-4);
    near("wide", at(Forces { weak_nmm: kip * IN, ..Forces::default() }), 2.0 / 6.7655 / allowed, 1e-4);
    // A leg of an angle: what a hole takes lies off the centroid, so the axis moves; never stronger than whole.
    let angle = steel("L2x2x1/4", "A36", 0.0);
    let hole = HoleHere { diameter_mm: 0.4375 * IN, from_edge_mm: 1.0 * IN };
    let bent = Forces { strong_nmm: kip * IN, ..Forces::default() };
    let net = recorded(|t| angle.combined(t, &bent, Some(hole))).expect("holds");
    assert!(net > 1.0 / 0.244 / (36.0 / 1.67), "{net}");
}

#[test]
fn block_shear_of_an_angle_by_hand() {
    // L2x2x1/4 of A36, 1/2 in pin 1 in from the end on a 1 in gauge line: A_gv = 0.25, A_nv = A_nt = 0.25 × 0.6875 in²;
    // 0.6 F_u A_nv = 5.981 and 0.6 F_y A_gv = 5.4 kip, the less; + F_u A_nt = 9.969: 15.369/2 kip.
    let angle = steel("L2x2x1/4", "A36", 0.0);
    let pin = PinPlace { end_mm: IN, edge_mm: IN, hole_mm: 0.5625 * IN };
    let u = recorded(|t| angle.block_shear(t, 7684.4 * LB, pin)).expect("holds");
    near("J4.3", u, 1.0, 1e-4);
    let gone = PinPlace { end_mm: 6.0, ..pin };
    assert!(matches!(angle.block_shear(&mut Silent, 10.0, gone), Err(Refusal::OutsideRange(_))));
}

#[test]
fn aluminium_gives_first_yield_and_nothing_else() {
    let (tube, alloy) = (section("aluminium tube 2x2x0.125").expect("listed"), metal("6061-T6").expect("listed"));
    let forces = Forces { axial_n: -1000.0 * LB, weak_nmm: 1000.0 * LB * IN, ..Forces::default() };
    let u = recorded(|t| aluminium_yield(t, tube, alloy, &forces)).expect("aluminium");
    near("first yield", u, (1.0 / 0.9375 + 1.0 / 0.5518) / (35.0 / 1.65), 1e-4);
    assert!(aluminium_yield(&mut Silent, section("HSS2x2x1/8").expect("listed"), alloy, &forces).is_err());
}
