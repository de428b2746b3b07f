//! The gust factor and the frequency below which it is void.

use crate::{
    catalogue::{Certainty, Source, Trace},
    loads::RangeState,
};

/// Gust-effect factor of a rigid structure, ASCE 7 §26.11.1.
pub const GUST_FACTOR: f64 = 0.85;
const RIGID: Source = Source::new("ASCE 7-16", "§26.11.1, rigid structure", Certainty::Agreed);
/// Lowest fundamental frequency of a rigid structure \[Hz\], ASCE 7 §26.2.
const RIGID_HZ: f64 = 1.0;

/// Records the gust factor, which every pressure holds.
pub(in crate::loads) fn record_gust_factor<T: Trace>(trace: &mut T) {
    super::tabulated("gust-effect factor", ("G", "G_rigid"), GUST_FACTOR, RIGID, trace);
}

/// May the rigid gust factor be used at this fundamental frequency?
///
/// # Units
/// `frequency_hz` \[Hz\].
///
/// # Source
/// ASCE 7-10 §26.2: flexible below 1 Hz. The gust factor of flexible structures (§26.11.5) is not encoded.
#[must_use]
pub fn rigid(frequency_hz: f64) -> RangeState {
    if frequency_hz >= RIGID_HZ {
        RangeState::Published
    } else {
        let found = crate::quantities::number(frequency_hz, 2);
        RangeState::Refused(format!(
            "the frame sways at {found} Hz; below 1 Hz the gust factor 0.85 is void (ASCE 7 §26.2) and gusts may build up the sway"
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_frame_below_one_hertz_is_refused_with_its_frequency() {
        assert!(rigid(1.0).is_published());
        let RangeState::Refused(why) = rigid(0.83) else { panic!("not refused") };
        assert!(why.contains("0.83 Hz"));
        assert!(matches!(rigid(f64::NAN), RangeState::Refused(_)));
    }
}
