//! Every equation of the loads, evaluated again from its printed terms, over all editions, stands and tilts.

use crate::handbook_tests::evaluate::recorded;
use tiltwright::catalogue::Silent;
use tiltwright::design::{
    Around, AsceWind, Below, Edition, EnWind, Exposure, Form, LoadBasis, RiskCategory, ServiceSnow, SnowBasis,
    SnowSite, StrengthSnow, Terrain, WindBasis,
};
use tiltwright::loads::asce7::wind_roof::{Roof, RoofZone};
use tiltwright::loads::asce7::{VelocityPressure, wind_bare, wind_sign};
use tiltwright::loads::{LoadBasis as FromLoads, Stand, Surface, gather};
use tiltwright::quantities::{MPS_PER_MPH, mm, mps, pa, psf};

const SITE: SnowSite = SnowSite { exposure: Exposure::C, around: Around::Sheltered, slides_off: true };

fn bases() -> Vec<FromLoads> {
    let asce = |edition, form| AsceWind {
        edition,
        gust: mps(115.0 * MPS_PER_MPH),
        exposure: Exposure::C,
        risk: RiskCategory::III,
        elevation: mm(250_000.0),
        k_zt: 1.1,
        form,
    };
    let service = SnowBasis::Service(ServiceSnow { ground: psf(20.0), risk: RiskCategory::III, site: SITE });
    let strength = SnowBasis::Strength(StrengthSnow { ground: psf(20.0), risk: RiskCategory::III, site: SITE });
    let en = EnWind { basic: mps(26.0), terrain: Terrain::II, c_0: 1.05, elevation: mm(250_000.0) };
    let of =
        |wind, snow| LoadBasis { wind, snow, panel_design_load: [pa(3600.0), pa(1600.0)], below: Below::Undeclared };
    vec![
        of(WindBasis::Asce(asce(Edition::Asce710, Form::Us)), service),
        of(WindBasis::Asce(asce(Edition::Asce716, Form::Si)), service),
        of(WindBasis::Asce(asce(Edition::Asce716, Form::Us)), service),
        of(WindBasis::Asce(asce(Edition::Asce722, Form::Us)), strength),
        of(WindBasis::En(en), SnowBasis::Characteristic(pa(900.0))),
    ]
}

#[test]
fn every_recorded_load_equation_gives_its_value_again() {
    let roof = Roof {
        height_mm: 6000.0,
        longer_mm: 20_000.0,
        shorter_mm: 12_000.0,
        parapet_mm: 300.0,
        slope_deg: 2.0,
        along_deg: 2.0,
        zone: RoofZone::Corner,
        exposed: true,
    };
    for basis in bases() {
        for stand in [Stand::Ground, Stand::Roof(roof)] {
            for tilt in [0.0, 4.0, 7.5, 11.0, 22.5, 30.0, 35.0, 44.0, 45.0, 50.0, 60.0, 67.0, 75.0, 90.0] {
                let surface = Surface::new(tilt, 1722.0, 4600.0, 300.0).expect("sizes");
                let loads = recorded(|trace| {
                    let loads = gather(&basis, &surface, &stand, 92.0, trace);
                    loads.component([0.0, 0.3], [0.0, 0.2], 0.7e6, trace);
                    loads.component([0.5, 0.5], [0.5, 0.5], 4.0e6, trace);
                    loads
                });
                assert_eq!(loads, gather(&basis, &surface, &stand, 92.0, &mut Silent), "listening changes nothing");
            }
        }
    }
}

#[test]
fn equations_outside_the_gathering_give_their_value_again() {
    let q = VelocityPressure { q_pa: 1170.0, k_d_in_load: 0.85, form: Form::Us };
    recorded(|trace| wind_sign::force_coefficient(12.5, 0.2286, trace));
    recorded(|trace| wind_bare::bare_pressure(q, 1.4, wind_bare::POST, trace));
}
