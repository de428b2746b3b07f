//! Equations with several ranges: each range is entered, prints what it computes, and meets its neighbours.
//!
//! The published limits are where two ranges of a standard's equations meet; closed forms stand beside each check.

use super::{evaluate::recorded, printed::near};
use tiltwright::{
    catalogue::{ScrewKind, metal, section},
    codes::{
        adm,
        aisc360::{
            Form, Profile, Steel, compression,
            flexure::{self, Bracing},
            flexure_angle::{self, Bent, Edition},
            flexure_channel, flexure_tube, tension,
        },
        ibc::ballast::{self, Ballasted, Rule},
        nds::{
            Duration, Temperature,
            beam::{self, BeamLoading},
            connection::{self, Lateral, Moisture},
            geometry::{self, GrainLoad, Placing},
            net_section,
        },
    },
};

const A36: Steel = Steel::new(36.0, 58.0);

fn profile(name: &str) -> Profile {
    Profile::of(section(name).expect("a listed section")).expect("a steel section")
}

#[test]
fn every_row_of_the_effective_length_table_is_entered() {
    // NDS-2018 Table 3.3.3, d = 10 in, l_u = 60 and 100 in.
    for (loading, short, long) in [
        (BeamLoading::SimpleUniform, 2.06 * 60.0, 1.63 * 100.0 + 30.0),
        (BeamLoading::SimpleCentre, 1.80 * 60.0, 1.37 * 100.0 + 30.0),
        (BeamLoading::SimpleCentreBraced, 1.11 * 60.0, 1.11 * 100.0),
        (BeamLoading::ThirdPointsBraced, 1.68 * 60.0, 1.68 * 100.0),
        (BeamLoading::QuarterPointsBraced, 1.54 * 60.0, 1.54 * 100.0),
        (BeamLoading::CantileverUniform, 1.33 * 60.0, 0.90 * 100.0 + 30.0),
        (BeamLoading::CantileverEnd, 1.87 * 60.0, 1.44 * 100.0 + 30.0),
        (BeamLoading::Other, 2.06 * 60.0, 1.63 * 100.0 + 30.0),
    ] {
        for (l_u, expected) in [(60.0, short), (100.0, long)] {
            near("l_e", recorded(|t| beam::effective_length(t, loading, l_u, 10.0)), expected, 1e-12);
        }
    }
}

#[test]
fn connection_factors_multiply() {
    let joint = Lateral {
        duration: Duration::Impact,
        c_m: connection::wet_lateral(Moisture { wet_when_made: false, wet_in_service: true }, 0.5, true),
        temperature: Temperature::Warm,
        wet: true,
        c_g: 0.9,
        c_delta: 0.8,
        end_grain: true,
    };
    // Impact counts no more than 1.6 in a connection (NDS-2018 §11.3.2).
    let z = recorded(|t| connection::adjusted_lateral(t, 1000.0, &joint));
    near("Z'", z, 1000.0 * 1.6 * 0.7 * 0.7 * 0.9 * 0.8 * 0.67, 1e-12);
    let c_m = connection::wet_withdrawal(Moisture::DRY, ScrewKind::Lag);
    let w = recorded(|t| connection::adjusted_withdrawal(t, 500.0, Duration::TwoMonths, c_m, 1.0));
    near("W'", w, 575.0, 1e-12);
}

#[test]
fn a_round_pin_bends_plastically_up_to_the_cap() {
    // The plastic modulus d³/6 is 1.70 of the elastic one, above the cap of 1.6.
    near(
        "round",
        recorded(|t| flexure::round_pin(t, 36.0, 0.5)),
        1.6 * 36.0 * std::f64::consts::PI * 0.125 / 32.0,
        1e-12,
    );
}

#[test]
fn holes_and_tear_out_keep_their_closed_forms() {
    near("A", recorded(|t| net_section::net_area(t, [1.5, 5.5], 0.5625, 2)).expect("wood left"), 1.5 * 4.375, 1e-12);
    let s = recorded(|t| net_section::net_modulus(t, [1.5, 5.5], 0.5625, 2.75)).expect("inside");
    near("S", s, 1.5 * (5.5_f64.powi(3) - 0.5625_f64.powi(3)) / 33.0, 1e-12);
    // NDS App. E.3, values that an open repository's tests print: Fv 180, t 1.5; one bolt 2.625 from the end 708.75 lb; two
    // at a pitch of 1.125, 607.5; two 0.75 from the end, 405. The smaller of end distance and pitch is critical.
    for (bolts, critical, printed) in [(1, 2.625, 708.75), (2, 1.125, 607.5), (2, 0.75, 405.0)] {
        near("row", recorded(|t| net_section::row_tear_out(t, bolts, 180.0, 1.5, critical)), printed, 1e-12);
    }
}

#[test]
fn geometry_factors_are_shares_of_the_full_distances() {
    let placing = Placing {
        diameter_in: 0.5,
        end_in: 2.8,
        loaded_edge_in: 1.75,
        unloaded_edge_in: 1.75,
        spacing_in: Some(1.7),
        row_spacing_in: Some(1.5),
        length_to_diameter: 7.0,
    };
    let along = GrainLoad { angle_deg: 0.0, towards_end: true, reversing: false, hardwood: false };
    let c = recorded(|t| geometry::geometry_factor(t, &placing, &along)).expect("allowed");
    near("the smaller of 2.8/3.5 and 1.7/2.0", c, 0.8, 1e-12);
    let tight = Placing { spacing_in: Some(1.5), ..placing };
    near("spacing governs", recorded(|t| geometry::geometry_factor(t, &tight, &along)).expect("allowed"), 0.75, 1e-12);
    // Slender bolts need half the row spacing to the edge.
    let wide = Placing { row_spacing_in: Some(4.0), ..placing };
    assert!(geometry::geometry_factor(&mut tiltwright::catalogue::Silent, &wide, &along).is_err());
}

#[test]
fn compression_meets_at_four_point_seven_one() {
    // Fy/Fe = 2.25: 0.658^2.25 = 0.39 = 0.877/2.25 to three figures, the published border.
    let border = std::f64::consts::PI * (2.25_f64 * 29_000.0 / 36.0).sqrt();
    let below = recorded(|t| compression::critical_stress(t, &A36, border * 0.999_999)).expect("below 200").f_cr_ksi;
    let above = recorded(|t| compression::critical_stress(t, &A36, border * 1.000_001)).expect("below 200").f_cr_ksi;
    near("border", below, above, 1e-3);
}

#[test]
fn slender_walls_lose_area_only_beyond_their_limit() {
    // L4x4x1/4 in a strong steel has slender legs; short, Fcr is near Fy.
    let angle = profile("L4x4x1/4");
    let strong = Steel::new(50.0, 65.0);
    let short =
        compression::critical_stress(&mut tiltwright::catalogue::Silent, &strong, 10.0).expect("short").f_cr_ksi;
    let a_e = recorded(|t| compression::effective_area(t, &angle, &strong, short)).expect("held");
    assert!(a_e < angle.area_in2 && a_e > 0.7 * angle.area_in2, "{a_e}");
    // Long, the stress is low and the whole area counts.
    let a_e = compression::effective_area(&mut tiltwright::catalogue::Silent, &angle, &strong, 10.0).expect("held");
    assert_eq!(a_e, angle.area_in2);
}

#[test]
fn angle_bending_covers_elastic_buckling_and_slender_legs() {
    let angle = profile("L4x4x1/4");
    let long = Bent { toe_in_compression: true, unbraced_in: 600.0, gradient: 1.0 };
    let m = recorded(|t| flexure_angle::nominal_moment(t, &angle, &A36, long, Edition::Since2016)).expect("inside");
    assert!(m < 0.8 * 36.0 * angle.s_x_in3, "elastic buckling governs: {m}");
    // A leg of b/t = 32 is slender: at most 0.71 E/(b/t)² on 0.8 S; a leg that thin also rolls over, at 0.255 E t³.
    let thin = Profile { wall_in: 0.125, ..angle };
    let short = Bent { toe_in_compression: true, unbraced_in: 1.0, gradient: 1.0 };
    let m = recorded(|t| flexure_angle::nominal_moment(t, &thin, &A36, short, Edition::Since2016)).expect("inside");
    assert!(
        m <= 0.71 * 29_000.0 / 1024.0 * 0.8 * angle.s_x_in3 && m <= 0.58 * 0.44 * 29_000.0 * 0.125_f64.powi(3),
        "{m}"
    );
}

#[test]
fn channels_go_from_plastic_to_elastic_buckling_without_a_jump() {
    let channel = profile("C4x5.4");
    let at = |l: f64| {
        let bracing = Bracing { unbraced_in: l, gradient: 1.0 };
        recorded(|t| flexure_channel::strong(t, &channel, &A36, bracing)).expect("compact")
    };
    let m: Vec<f64> = (1..=400).map(|l| at(f64::from(l))).collect();
    near("plastic", m[0], 36.0 * channel.z_x_in3, 1e-12);
    for pair in m.windows(2) {
        assert!(pair[1] <= pair[0] + 1e-9 && pair[1] > pair[0] * 0.97, "{pair:?}");
    }
}

#[test]
fn rectangular_tubes_buckle_sideways_without_a_jump() {
    let tube = profile("HSS4x2x1/8");
    let steel = Steel::new(50.0, 62.0);
    let at = |l: f64| {
        let bracing = Bracing { unbraced_in: l, gradient: 1.0 };
        recorded(|t| flexure_tube::rectangular(t, &tube, &steel, bracing)).expect("held")
    };
    let m: Vec<f64> = (0..600).map(|l| at(f64::from(l) * 5.0)).collect();
    near("plastic", m[0], 50.0 * tube.z_x_in3, 1e-12);
    for pair in m.windows(2) {
        assert!(pair[1] <= pair[0] + 1e-9 && pair[1] > pair[0] * 0.97, "{pair:?}");
    }
    assert!(m[599] < 0.7 * m[0], "elastic at last: {}", m[599]);
    // A web between 2.42 and 5.70 √(E/Fy) is noncompact.
    let deep = Profile { depth_in: 9.0, ..tube };
    assert!(
        recorded(|t| flexure_tube::rectangular(t, &deep, &steel, Bracing { unbraced_in: 0.0, gradient: 1.0 })).is_ok()
    );
}

#[test]
fn thin_pipes_have_three_ranges() {
    let pipe = Profile { form: Form::Pipe, ..profile("Pipe 8 STD") };
    let steel = Steel::new(35.0, 60.0);
    let at = |d_t: f64| {
        let thin = Profile { depth_in: pipe.wall_in * d_t, ..pipe };
        recorded(|t| flexure_tube::round(t, &thin, &steel)).expect("below 0.45 E/Fy")
    };
    near("compact", at(57.0), 35.0 * pipe.z_x_in3, 1e-12);
    near("noncompact", at(150.0), (0.021 * 29_000.0 / 150.0 + 35.0) * pipe.s_x_in3, 1e-12);
    near("slender", at(300.0), 0.33 * 29_000.0 / 300.0 * pipe.s_x_in3, 1e-12);
    let border = 0.31 * 29_000.0 / 35.0;
    // The published ranges meet to within 0.4 %.
    near("border", at(border * 0.999_999), at(border * 1.000_001), 0.005);
}

#[test]
fn block_shear_is_capped_by_yielding() {
    let r = recorded(|t| tension::available_block_shear(t, &A36, 1.0, 1.2, 0.5));
    near("yielding of the gross shear area", r, (0.6 * 36.0 * 1.2 + 58.0 * 0.5) / 2.0, 1e-12);
    let r = recorded(|t| tension::available_block_shear(t, &A36, 0.5, 1.2, 0.5));
    near("rupture of the net shear area", r, (0.6 * 58.0 * 0.5 + 58.0 * 0.5) / 2.0, 1e-12);
}

#[test]
fn aluminium_and_ballast_print_what_they_compute() {
    let alloy = metal("6063-T6").expect("a listed alloy");
    assert!(recorded(|t| adm::yield_utilisation(t, alloy, 3.0, 9.0)) > 0.0);
    let frame = Ballasted {
        frame_lb: 200.0,
        frame_arm_ft: 3.0,
        slide_lb: 150.0,
        lift_lb: 180.0,
        tip_ft_lb: 1200.0,
        friction: 0.5,
        friction_source: ballast::FACTOR,
        piece_lb: 34.0,
        ballast_arm_ft: 4.0,
    };
    for (rule, share, factor) in [(Rule::REDUCED, 0.6, 1.0), (Rule::FACTORED, 1.0, 1.5)] {
        let s = recorded(|t| ballast::under_rule(t, &frame, 20, rule)).expect("in range");
        // The weight that friction needs, over the weight there.
        near("sliding", s.sliding, (factor * 150.0 / 0.5 + 180.0) / (share * 880.0), 1e-12);
        near("overturning", s.overturning, factor * 1200.0 / (share * 3320.0), 1e-12);
        near("uplift", s.uplift, factor * 180.0 / (share * 880.0), 1e-12);
    }
}
